"""What games teach: the page after one, the way into the next plan, and the season so far."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from practice.access import game_for, planned_game_for
from practice.core.learning.lesson import GameLesson
from practice.core.proportions import FEWEST_FOR_PERCENT
from practice.core.reps.called import MOST_POINTS
from practice.install.lessons import next_game, put_in, take_out
from practice.learned.after import after_page
from practice.learned.season import season_told
from roster.access import may_coach, team_for
from shared.access import user_of
from shared.core.numbers import whole_number
from shared.pages import page
from shared.speech import language_now

SECTION = "practices"


@require_safe
def after_the_game(request: HttpRequest, pk: int) -> HttpResponse:
    """What was called, what came of it, where it went wrong, and what to practise."""
    user = user_of(request)
    row = game_for(user, pk)
    planned = next_game(row.team)
    context = {
        "team": row.team,
        "section": SECTION,
        "game": row,
        "planned": planned,
        "found": after_page(row, planned, language_now()),
        "may_coach": may_coach(user, row.team),
    }
    return page(request, "practice/after_game.html", context)


@require_safe
def played(request: HttpRequest, pk: int) -> HttpResponse:
    """The season so far: which plays are called, what they gave, how often each look is there."""
    user = user_of(request)
    team = team_for(user, pk)
    context = {
        "team": team,
        "section": SECTION,
        "told": season_told(team, timezone.localdate(), language_now()),
        "needed": FEWEST_FOR_PERCENT,
        "most": MOST_POINTS,
    }
    return page(request, "practice/played.html", context)


@require_POST
def practise(request: HttpRequest, pk: int) -> HttpResponse:
    """Put one thing into the install plan of the next game."""
    user = user_of(request)
    row = planned_game_for(user, pk)
    play = whole_number(request.POST.get("play", ""))
    lesson, role = request.POST.get("lesson", ""), request.POST.get("role", "")
    planned = None
    if play is not None and lesson in set(GameLesson):
        planned = put_in(row, (play, lesson, role), user)
    if planned is None:
        messages.warning(request, _("Nothing was put in: the game no longer shows that."))
    else:
        said = _("It counts double in the install plan before %(opponent)s.")
        messages.success(request, said % {"opponent": planned.opponent})
    return redirect("after-game", pk)


@require_POST
def leave_out(request: HttpRequest, pk: int) -> HttpResponse:
    """Take out of a game's plan what an earlier game had put in."""
    user = user_of(request)
    row = planned_game_for(user, pk)
    lesson = whole_number(request.POST.get("lesson", ""))
    if lesson is not None and take_out(row, lesson, user):
        messages.success(request, _("It is taken out of the install plan."))
    shown = whole_number(request.POST.get("shown", ""))  # whence it was asked
    return redirect("install", pk) if shown is None else redirect("after-game", shown)
