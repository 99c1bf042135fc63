"""A team's first page: what comes next, what was, and who belongs to it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from practice.reps.store import open_held
from practice.today.page import today_of
from practice.today.steps import first_steps
from roster.access import may_coach, team_for
from roster.sheets.unread import unread
from roster.squad.views_team import team_facts
from shared.access import user_of
from shared.pages import page
from shared.speech import language_now


@require_safe
def today(request: HttpRequest, pk: int) -> HttpResponse:
    """The next practice and game first, then the team itself."""
    user = user_of(request)
    team = team_for(user, pk)
    facts, now = team_facts(team), timezone.localtime()
    coaches = may_coach(user, team)
    context = {
        **facts,
        "team": team,
        "section": "team",
        "may_coach": coaches,
        "steps": first_steps(team, facts) if coaches else (),
        "now": now,
        "today": today_of(team, facts["squad"], now, language_now()),
        "held": open_held(team),
        "unread": unread(team, facts["squad"]),
    }
    return page(request, "practice/today.html", context)
