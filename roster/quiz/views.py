"""What the staff sees of the players' answers."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from roster.access import may_coach, team_for
from roster.quiz.results import results
from roster.sheets.load import team_sheets
from shared.access import user_of
from shared.pages import page
from shared.speech import language_now


@require_safe
def understood(request: HttpRequest, pk: int) -> HttpResponse:
    """Which roles are understood and which are not, by the players' last answers."""
    user = user_of(request)
    team = team_for(user, pk)
    found = results(team_sheets(team), language_now())
    context = {
        "team": team,
        "section": "understood",
        "may_coach": may_coach(user, team),
        "open_roles": [each for each in found if each.missed],
        "sound_roles": [each for each in found if not each.missed],
    }
    return page(request, "roster/understood.html", context)
