"""Sheets on paper: one player, all in one file, or one file each."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.text import slugify
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from roster.access import squad_player_for, team_for
from roster.core.paper.sheet_pdf import PAPERS
from roster.models import Player, PlayerLink, Team
from roster.sheets.load import team_sheets
from roster.sheets.papers import NothingToPrintError, club_name, order_of
from roster.sheets.single import file_name, player_pdf
from roster.squad.door import own_pages
from shared.access import user_of
from shared.pages import conditional


@require_safe
def sheet_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """One player's sheet."""
    return _one(request, squad_player_for(user_of(request), pk))


@require_safe
@own_pages
def my_sheet_pdf(request: HttpRequest, link: PlayerLink) -> HttpResponse:
    """The player's own sheet."""
    return _one(request, link.player)


@require_safe
def sheets_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """The sheets of all who have a role in one file, each beginning on the front of a leaf."""
    return paper_file(request, team_for(user_of(request), pk), "booklets")


@require_safe
def sheets_zip(request: HttpRequest, pk: int) -> HttpResponse:
    """One file for each player who has a role."""
    return paper_file(request, team_for(user_of(request), pk), "each")


def paper_file(request: HttpRequest, team: Team, kind: str) -> HttpResponse:
    """A paper of the team, as the address wants it. Raises Http404 for a kind that is not known.

    What takes long is given as it was drawn before; where it was not, the page is where to begin.
    """
    try:
        order = order_of(kind, request.GET.dict())
        if order.takes_long and not order.is_ready(team):
            messages.info(request, _("This file is drawn first: press its button."))
            return redirect(f"{reverse('print', args=[team.pk])}?{order.query}")
        data = order.file(team)
    except (KeyError, NothingToPrintError):
        raise Http404 from None
    if kind == "each":
        return _file(data, "application/zip", f"{team.name}-sheets.zip")
    return conditional(request, _file(data, "application/pdf", f"{team.name}-{kind}.pdf"))


def _one(request: HttpRequest, player: Player) -> HttpResponse:
    data = player_pdf(team_sheets(player.team), player, _paper(request), club_name())
    return conditional(request, _file(data, "application/pdf", file_name(player)))


def _paper(request: HttpRequest) -> str:
    wanted = request.GET.get("paper", "a4")
    return wanted if wanted in PAPERS else "a4"


def _file(data: bytes, kind: str, name: str) -> HttpResponse:
    response = HttpResponse(data, content_type=kind)
    stem, _, ending = name.rpartition(".")
    response.headers["Content-Disposition"] = f'inline; filename="{slugify(stem)}.{ending}"'
    return response
