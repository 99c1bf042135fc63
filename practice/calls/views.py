"""The call sheet of a game: on a phone in a time-out, each play's board, and on paper."""

from __future__ import annotations

import io

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from plays.core.play import ROLES
from plays.values import play_value
from practice.access import game_for
from practice.calls.boards import board_of
from practice.calls.known import game_calls
from practice.calls.page import sheet_data
from practice.calls.paper import write_sheet
from roster.cast.changes import package_with_cast
from roster.core.paper.grid_pdf import PAPERS
from shared.access import one_of, user_of
from shared.core.numbers import whole_number
from shared.headers import KEPT_NOWHERE
from shared.pages import conditional, page
from shared.speech import language_now


@require_safe
def call_sheet(request: HttpRequest, pk: int) -> HttpResponse:
    """What to call now, by situation and for whoever is on the floor."""
    game = game_for(user_of(request), pk)
    calls = game_calls(game)
    ready = bool(calls.entries) and len(calls.able) >= len(ROLES)
    data = sheet_data(calls) if ready else None
    context = {"team": game.team, "game": game, "carries": calls.entries, "data": data}
    return page(request, "practice/call_sheet.html", context)


@require_safe
def call_board(request: HttpRequest, pk: int, entry: int, call: int, tag: str) -> HttpResponse:
    """One call of a carried play for the board. An older tag gets what there is now."""
    game = game_for(user_of(request), pk)
    row = one_of(package_with_cast(game.team), pk=entry)
    if call > len(play_value(row.revision).variants):
        return HttpResponse(status=404)
    board = board_of(row, call, game.team, language_now())
    answer = HttpResponse(board.data(game.team_id), content_type="application/json")
    if tag != board.tag:  # out of a page that was kept: nobody is to keep this one under that name
        answer.headers["Cache-Control"] = KEPT_NOWHERE
    return conditional(request, answer)


@require_safe
def call_sheet_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """The sheet on one page: for the five asked for and the team's units, what to call when."""
    game = game_for(user_of(request), pk)
    five = [n for text in request.GET.getlist("on") if (n := whole_number(text)) is not None]
    wanted = request.GET.get("paper", "a4")
    out = io.BytesIO()
    write_sheet(
        game_calls(game), five, out, timezone.localdate(), wanted if wanted in PAPERS else "a4"
    )
    answer = HttpResponse(out.getvalue(), content_type="application/pdf")
    name = f"{slugify(game.team.name)}-{game.date:%Y-%m-%d}-calls.pdf"
    answer.headers["Content-Disposition"] = f'inline; filename="{name}"'
    return answer
