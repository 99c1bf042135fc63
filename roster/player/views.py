"""The player's own pages: an index of plays, one play a screen, and "got it".

No account: a personal link opens them, and nothing of anybody else's but names and numbers.
"""

from __future__ import annotations

from typing import Final
from zlib import compress

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone, translation
from django.views.decorators.http import require_POST, require_safe

from plays.core.glossary.glossary import GLOSSARY
from plays.play.page import legend_svg
from roster.models import GotIt, Player, PlayerLink
from roster.player.frame import OwnPlace, base, own_place, speaks_to
from roster.player.moving import motion, moving
from roster.player.news import Place, last_said, news
from roster.player.page import index_of, my_play
from roster.ports import coming
from roster.quiz.store import due, last_answers, question_keys
from roster.sheets.load import TeamSheets, team_sheets
from roster.squad.door import (
    closed,
    own_changes,
    own_pages,
    phone_of,
    remember,
    token_here,
)
from roster.squad.links import bind, link_behind
from roster.squad.spoken import remembering
from shared.pages import conditional, page
from shared.scripts import service_worker

WORKER = "js/player_worker.js"


@login_not_required
@require_POST
def open_here(request: HttpRequest, token: str) -> HttpResponse:
    """The link belongs to this phone from now on, unless another one was first."""
    link = link_behind(token, timezone.now())
    phone = phone_of(request)
    if link is None or not bind(link, phone, timezone.now()):
        return closed(request)
    return remember(redirect("my-plays", token), phone)


@login_not_required
@require_safe
def worker(_request: HttpRequest) -> HttpResponse:
    """The service worker of these pages: it lies beside them and can serve no others."""
    return service_worker(WORKER)


# Bytes, packed as they are sent: with its head, both faces and the styles, 19.3 kB, a page stays
# under 25.
HEAVY: Final = 5_600


@require_safe
@own_pages
def my_plays(request: HttpRequest, link: PlayerLink) -> HttpResponse:
    """The player's plays: calls and signals first, what comes next, what has changed."""
    player = link.player
    speaks = speaks_to(request, player)
    loaded = team_sheets(player.team)
    with translation.override(speaks):
        speech = player.team.speech(speaks)
        sheet = loaded.sheet(player.pk, timezone.localdate(), speech)
        waiting = _due(loaded, player)
        said = last_said(player)
        fresh = news(loaded, waiting, said, speech)
        lines = index_of(sheet, said, loaded.revisions, waiting, fresh)
        context = {
            **base(link, request, speaks),
            "first": [line for line in lines if line.depth == 1],
            "later": [line for line in lines if line.depth > 1],
            "coming": coming(player.team),
            "due": [line for line in lines if line.due],
            "changed": [line for line in lines if line.news],
        }
        return remembering(page(request, "player/index.html", context), request, speaks)


@require_safe
@own_pages
def my_part(request: HttpRequest, link: PlayerLink, entry: int, role: int) -> HttpResponse:
    """One play on a screen of its own."""
    own = own_place(request, link, entry, role)
    with translation.override(own.speaks):
        piece = own.piece("my play", lambda: _part(own))
        place: Place = (entry, own.role)
        said = last_said(link.player)
        context = {
            **base(link, request, own.speaks),
            "part": piece.place,
            **own.address(),
            "got": said.get(place) == own.loaded.revisions[entry],
            "due": _due(own.loaded, link.player).get(place, 0),
            "news": news(own.loaded, [place], said, own.speech).get(place),
        }
        shown = page(request, "player/play.html", context, piece=piece)
        return remembering(shown, request, own.speaks)


@require_safe
@own_pages
def my_reading(request: HttpRequest, link: PlayerLink) -> HttpResponse:
    """How to read the lines of the pictures, and what the words mean: once for all plays."""
    speaks = speaks_to(request, link.player)
    with translation.override(speaks):
        legend = legend_svg(link.player.team.speech(speaks), lean=True)
        context = {**base(link, request, speaks), "legend": legend, "glossary": GLOSSARY}
        return remembering(page(request, "player/reading.html", context), request, speaks)


@require_safe
@own_pages
def my_moving_part(request: HttpRequest, link: PlayerLink, entry: int, role: int) -> HttpResponse:
    """The play in motion, on a page of its own: it weighs more than the rest."""
    own = own_place(request, link, entry, role)
    with translation.override(own.speaks):
        part = own.part()
        context = {
            **base(link, request, own.speaks),
            **own.address(),
            "part": part,
            "moving": moving(part, link.player.team, own.speech),
        }
        return remembering(page(request, "player/moving.html", context), request, own.speaks)


@require_safe
@own_pages
def my_motion(request: HttpRequest, link: PlayerLink, entry: int, role: int) -> HttpResponse:
    """Where everybody is when, for the page in motion."""
    own = own_place(request, link, entry, role)
    with translation.override(own.speaks):
        found = motion(own.part(), link.player.team, own.speech, request.GET.get("look", ""))
    return conditional(request, JsonResponse(found))


@require_POST
@own_changes
def got_it(request: HttpRequest, link: PlayerLink, entry: int, role: int) -> HttpResponse:
    """The player says that they have read this part; said again, it stays said once.

    The page comes back at the word that says so, and the focus with it.
    """
    player = link.player
    row = get_object_or_404(player.castings.select_related("entry"), entry=entry, role=str(role))
    GotIt.objects.get_or_create(
        player=player, entry=row.entry, role=str(role), revision_id=row.entry.revision_id
    )
    return redirect(f"{reverse('my-play', args=[token_here(request), entry, role])}#got")


def _due(loaded: TeamSheets, player: Player) -> dict[Place, int]:
    """How many questions are due of each role that the player has."""
    keys, said, now = question_keys(loaded), last_answers(player), timezone.now()
    mine = [(a.play, a.role) for a in loaded.cast.of(player.pk)]
    return {place: len(due(keys.get(place, ()), said.get(place, {}), now)) for place in mine}


def _part(own: OwnPlace) -> bytes:
    """The play below its head, in the player's language, without the indents of the template.

    Much to draw costs the page its bold letters: see ``heavy`` in player.css.
    """
    context = {"my": my_play(own.part(), own.speech, own_eyes=own.own_eyes)}
    lines = render_to_string("player/part.html", context).splitlines()
    made = "\n".join(filter(None, map(str.strip, lines))).encode()
    # It stands first: the letters are sent for as soon as the styles are there.
    return made if len(compress(made)) < HEAVY else b'<i class="heavy" hidden></i>' + made
