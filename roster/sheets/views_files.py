"""Sheets on paper: one player, all in one file, or one file each."""

from __future__ import annotations

import io
import zipfile

from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from roster.access import player_for, team_for
from roster.core.cast import PlayerId
from roster.core.paper.sheet_pdf import PAPERS, write_sheets
from roster.models import Player, PlayerLink, Team
from roster.sheets.load import TeamSheets, team_sheets
from roster.sheets.papers import NothingToPrintError, club_name, order_of
from roster.squad.door import own_pages
from shared.access import user_of
from shared.pages import conditional
from shared.pieces import kept


@require_safe
def sheet_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """One player's sheet."""
    return _one(request, player_for(user_of(request), pk))


@require_safe
@own_pages
def my_sheet_pdf(request: HttpRequest, link: PlayerLink) -> HttpResponse:
    """The player's own sheet."""
    return _one(request, link.player)


@require_safe
def sheets_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """The sheets of all who have a role in one file, each beginning on the front of a leaf."""
    return paper_file(request, team_for(user_of(request), pk), "booklets")


def paper_file(request: HttpRequest, team: Team, kind: str) -> HttpResponse:
    """A paper of the team, as the address wants it. Raises Http404 for a kind that is not known."""
    try:
        data = order_of(kind, request.GET.dict()).file(team)
    except (KeyError, NothingToPrintError):
        raise Http404 from None
    return conditional(request, _file(data, "application/pdf", f"{team.name}-{kind}.pdf"))


@require_safe
def sheets_zip(request: HttpRequest, pk: int) -> HttpResponse:
    """One file for each player who has a role."""
    team = team_for(user_of(request), pk)
    loaded, paper, club = team_sheets(team), _paper(request), club_name()
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for who in _cast(loaded):
            name = _name(loaded.players[who])
            archive.writestr(f"{name}.pdf", _pdf(loaded, (who,), paper, club))
    return _file(out.getvalue(), "application/zip", f"{team.name}-sheets.zip")


def _cast(loaded: TeamSheets) -> tuple[PlayerId, ...]:
    """Everybody with a role: nobody gets an empty sheet."""
    return tuple(who for who in loaded.players if loaded.cast.of(who))


def _one(request: HttpRequest, player: Player) -> HttpResponse:
    data = _pdf(team_sheets(player.team), (player.pk,), _paper(request), club_name())
    return conditional(request, _file(data, "application/pdf", f"{_name(player)}.pdf"))


def _pdf(loaded: TeamSheets, players: tuple[PlayerId, ...], paper: str, club: str) -> bytes:
    """The sheets of these players as one file, as it was written for others before."""
    today, speech = timezone.localdate(), loaded.team.speech()

    def write() -> bytes:
        out = io.BytesIO()
        sheets = [loaded.sheet(pk, today, speech) for pk in players]
        write_sheets(sheets, out, paper=paper, club=club, language=speech)
        return out.getvalue()

    facts = ("pdf", paper, club, today, *(loaded.facts(pk) for pk in players))
    return kept(loaded.team.pk, facts, write)


def _paper(request: HttpRequest) -> str:
    wanted = request.GET.get("paper", "a4")
    return wanted if wanted in PAPERS else "a4"


def _name(player: Player) -> str:
    return slugify(f"{player.number}-{player.name}") or "sheet"


def _file(data: bytes, kind: str, name: str) -> HttpResponse:
    response = HttpResponse(data, content_type=kind)
    stem, _, ending = name.rpartition(".")
    response.headers["Content-Disposition"] = f'inline; filename="{slugify(stem)}.{ending}"'
    return response
