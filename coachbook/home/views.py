"""The first page after signing in: my teams, and what comes next for each."""

from __future__ import annotations

from django.contrib.auth.decorators import login_not_required
from django.db.models import Count, Prefetch, Q, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone

from practice.models import Game, Practice
from roster.access import teams_for
from roster.models import Team
from shared.access import user_of
from shared.models import Club
from shared.pages import page


@login_not_required
def home(request: HttpRequest) -> HttpResponse:
    """My teams with the next practice and game; the way in for everybody else."""
    if not request.user.is_authenticated:
        return redirect("sign-in" if Club.objects.exists() else "set-up")
    user = user_of(request)
    context = {
        "teams": _with_dates(teams_for(user).filter(archived_on=None)),
        "past": teams_for(user).exclude(archived_on=None).order_by("-archived_on", "name"),
        "today": timezone.localdate(),
    }
    return page(request, "coachbook/home.html", context)


def _with_dates(teams: QuerySet[Team]) -> QuerySet[Team]:
    today = timezone.localdate()
    practices = Practice.objects.all().ahead(today)
    games = Game.objects.all().ahead(today)
    found = teams.annotate(
        squad=Count("players", filter=Q(players__left_on=None), distinct=True),
        carried=Count("package", filter=Q(package__dropped_on=None), distinct=True),
    )
    found = found.prefetch_related(
        Prefetch("practices", queryset=practices, to_attr="coming_practices")
    )
    return found.prefetch_related(Prefetch("games", queryset=games, to_attr="coming_games"))
