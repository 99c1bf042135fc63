"""The player's own pages: an index of plays, one play a screen, and "got it".

No account: a personal link opens them, and nothing of anybody else's but names and numbers.
"""

from __future__ import annotations

from typing import Any, Final, cast

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.template.loader import render_to_string
from django.utils import timezone, translation
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_POST, require_safe

from plays.core.play import Role
from plays.play.page import legend_svg
from roster.models import GotIt, PackagePlay, Player, PlayerLink
from roster.player.page import changes_since, index_of, last_said, my_play
from roster.ports import coming
from roster.sheets.load import TeamSheets, team_sheets
from roster.squad.door import (
    SEASON,
    closed,
    own_changes,
    own_pages,
    phone_of,
    reads_only,
    remember,
    token_here,
)
from roster.squad.links import bind, link_behind
from shared.core.language import language
from shared.pages import page
from shared.pieces import kept

SPEAKS: Final = "speaks"  # the cookie that holds the language a player chose


@login_not_required
@require_POST
def open_here(request: HttpRequest, token: str) -> HttpResponse:
    """The link belongs to this phone from now on, unless another one was first."""
    link = link_behind(token, timezone.now())
    phone = phone_of(request)
    if link is None or not bind(link, phone, timezone.now()):
        return closed(request)
    return remember(redirect("my-plays", token), phone)


@require_safe
@own_pages
def my_plays(request: HttpRequest, link: PlayerLink) -> HttpResponse:
    """The player's plays: calls and signals first, what comes next, what has changed."""
    player = link.player
    speaks = _speaks(request, player)
    loaded = team_sheets(player.team)
    with translation.override(speaks):
        sheet = loaded.sheet(player.pk, timezone.localdate(), language(speaks))
        context = {
            **_base(link, request, speaks),
            "lines": index_of(sheet, last_said(player), loaded.revisions),
            "coming": coming(player.team),
        }
        return _remembering(page(request, "player/index.html", context), request, speaks)


@require_safe
@own_pages
def my_part(request: HttpRequest, link: PlayerLink, entry: int, role: int) -> HttpResponse:
    """One play on a screen of its own."""
    player = link.player
    speaks = _speaks(request, player)
    loaded = team_sheets(player.team)
    own = cast("Role", str(role))
    with translation.override(speaks):
        facts = ("my play", speaks, entry, role, *loaded.facts(player.pk))
        part = kept(
            player.team_id, facts, lambda: _part(loaded, player, (entry, own), speaks)
        ).decode()
        carried = get_object_or_404(
            PackagePlay.objects.select_related("play", "revision").defer("revision__document"),
            pk=entry,
        )
        seen = last_said(player).get((entry, own))
        context = {
            **_base(link, request, speaks),
            "part": mark_safe(part),  # noqa: S308 - rendered by our own template
            "entry": entry,
            "role": role,
            "got": seen == carried.revision_id,
            "news": changes_since(carried, own, seen, language(speaks)) if seen else [],
        }
        return _remembering(page(request, "player/play.html", context), request, speaks)


@require_POST
@own_changes
def got_it(request: HttpRequest, link: PlayerLink, entry: int, role: int) -> HttpResponse:
    """The player says that they have read this part; said again, it stays said once."""
    player = link.player
    row = get_object_or_404(player.castings.select_related("entry"), entry=entry, role=str(role))
    GotIt.objects.get_or_create(
        player=player, entry=row.entry, role=str(role), revision_id=row.entry.revision_id
    )
    return redirect("my-plays", token_here(request))


def _part(loaded: TeamSheets, player: Player, place: tuple[int, Role], speaks: str) -> bytes:
    """The play below its head, in the player's language. Raises Http404 for a role of others."""
    speech = language(speaks)
    sheet = loaded.sheet(player.pk, timezone.localdate(), speech)
    parts = {(part.carried.id, part.role): part for part in sheet.parts}
    if place not in parts:
        raise Http404
    context = {"my": my_play(parts[place], speech), "legend": legend_svg(speech)}
    return render_to_string("player/part.html", context).encode()


def _base(link: PlayerLink, request: HttpRequest, speaks: str) -> dict[str, Any]:
    player = link.player
    return {
        "player": player,
        "sheet_team": str(player.team),
        "token": token_here(request),
        "others": [(code, name) for code, name in settings.LANGUAGES if code != speaks],
        "reads_only": reads_only(link, request),
    }


def _speaks(request: HttpRequest, player: Player) -> str:
    """The language that the player asks for now, or chose before; else the team's."""
    asked = request.GET.get("in") or request.COOKIES.get(SPEAKS, "")
    return asked if asked in dict(settings.LANGUAGES) else player.team.language


def _remembering(response: HttpResponse, request: HttpRequest, speaks: str) -> HttpResponse:
    if request.GET.get("in") == speaks:
        response.set_cookie(SPEAKS, speaks, max_age=SEASON, path="/my/", samesite="Lax")
    return response
