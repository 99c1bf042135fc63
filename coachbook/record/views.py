"""The record of changes in words: a team's for who leads it, the whole for who runs the club."""

from __future__ import annotations

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from coachbook.record.page import MATTERS, SITE, RecordAsked, record_page
from coachbook.record.wording import THE_SITE
from roster.access import led_team_for
from roster.models import Team
from shared.access import require, user_of
from shared.models import Change
from shared.pages import page
from shared.speech import language_now


@require_safe
def team_record(request: HttpRequest, pk: int) -> HttpResponse:
    """Who changed what of a team, and when; kept with a season that is put away."""
    team = led_team_for(user_of(request), pk)
    return _page(request, Change.objects.filter(team=team.pk), team)


@require_safe
def club_record(request: HttpRequest) -> HttpResponse:
    """Who changed what in the club, its library and all its teams."""
    require(user_of(request).runs_club)
    return _page(request, Change.objects.all(), None)


def _page(request: HttpRequest, rows: QuerySet[Change], team: Team | None) -> HttpResponse:
    language = language_now()
    context = {
        "team": team,
        "section": "team" if team else "staff",
        "record": record_page(rows, RecordAsked.of(request.GET.dict()), language),
        "matters": list(MATTERS.items()),
        "site": (SITE, language.say(THE_SITE)),
    }
    return page(request, "coachbook/record.html", context)
