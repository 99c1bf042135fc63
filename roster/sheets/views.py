"""Sheets as the staff sees them: the list with its links, and single sheets."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.utils import timezone, translation
from django.views.decorators.http import require_safe

from plays.core.glossary.glossary import GLOSSARY
from plays.play.page import legend_svg
from roster.access import may_coach, squad_player_for, team_for
from roster.models import Player, PlayerLink
from roster.sheets.load import TeamSheets, team_sheets
from roster.sheets.page import sheet_view, unsaid
from roster.squad.links import open_links
from shared.access import user_of
from shared.pages import page
from shared.pieces import KeptPiece
from shared.speech import language_now


@require_safe
def sheets(request: HttpRequest, pk: int) -> HttpResponse:
    """Everybody's sheet, their personal links and what to print."""
    user = user_of(request)
    team = team_for(user, pk)
    loaded = team_sheets(team)
    coaching = may_coach(user, team)
    links = _open_links(pk)
    rows = [
        (player, len(loaded.cast.of(player.pk)), links.get(player.pk) if coaching else None)
        for player in loaded.players.values()
    ]
    context = {
        "team": team,
        "section": "sheets",
        "rows": rows,
        "may_coach": coaching,
        "unsaid": unsaid(loaded, links, language_now()),
    }
    return page(request, "roster/sheets.html", context, secret=coaching)


def _open_links(team: int) -> dict[int, PlayerLink]:
    open_now = open_links(timezone.now()).filter(player__team=team, is_guardians=False)
    return {link.player_id: link for link in open_now.order_by("made_at")}


@require_safe
def sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """One player's sheet, as the staff sees it."""
    player = squad_player_for(user_of(request), pk)
    return _sheet_page(request, player)


def _sheet_page(request: HttpRequest, player: Player) -> HttpResponse:
    team, today = player.team, timezone.localdate()
    with translation.override(team.language):
        loaded = team_sheets(team)
        facts = ("page", *loaded.facts(player.pk))
        piece = KeptPiece(team.pk, facts, lambda: _parts(loaded, player))
        context = {
            "player": player,
            "sheet_team": str(team),
            "made_on": today,
            "parts": piece.place,
            "team": team,
            "section": "sheets",
            "may_coach": may_coach(user_of(request), team),
        }
        return page(request, "roster/sheet.html", context, piece=piece)


def _parts(loaded: TeamSheets, player: Player) -> bytes:
    """The sheet below its head, in the team's language: what takes the time to draw."""
    speech = loaded.team.speech()
    made = loaded.sheet(player.pk, timezone.localdate(), speech)
    views = [sheet_view(part, speech) for part in made.parts]
    context = {
        "views": views,
        "days": loaded.days,
        "legend": legend_svg(speech),
        "glossary": GLOSSARY,
    }
    return render_to_string("roster/sheet_parts.html", context).encode()
