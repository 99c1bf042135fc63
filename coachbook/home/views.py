"""The first page after signing in: my teams, and what comes next for each."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, Final, TypeVar

from django.contrib.auth.decorators import login_not_required
from django.db.models import Count, OuterRef, QuerySet, Subquery
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_safe

from practice.models import Game, Practice
from roster.access import teams_for
from roster.models import PackagePlay, Player, Team
from shared.access import user_of
from shared.models import Club, User
from shared.pages import page

MOST_CARDS: Final = 24  # teams with a card of their own; a federation's others are lines
Dated = TypeVar("Dated", Practice, Game)


@dataclass(frozen=True, slots=True)
class TeamCard:
    """A team with how many play in it and are carried, and what comes next."""

    team: Team
    squad: int
    carried: int
    practice: Practice | None
    game: Game | None


@login_not_required
@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """My teams with the next practice and game; the way in for everybody else."""
    if not request.user.is_authenticated:
        return redirect("sign-in" if Club.objects.exists() else "set-up")
    user = user_of(request)
    if user.is_guest:
        return redirect("library")
    teams = _own_first(teams_for(user).filter(archived_on=None), user)
    context = {
        "teams": with_facts(teams[:MOST_CARDS], timezone.localdate()),
        "more": teams[MOST_CARDS:],
        "past": teams_for(user).exclude(archived_on=None).order_by("-archived_on", "name"),
        "today": timezone.localdate(),
    }
    return page(request, "coachbook/home.html", context)


def _own_first(teams: QuerySet[Team], user: User) -> list[Team]:
    """Who runs the club sees every team, and first those that they coach."""
    own = set(user.staff_places.values_list("team_id", flat=True))
    return sorted(teams, key=lambda team: team.pk not in own)


def with_facts(teams: list[Team], today: date) -> list[TeamCard]:
    """Four queries, whatever a season holds: only what comes next is loaded."""
    keys = [team.pk for team in teams]
    squad = _counted(Player.objects.present().filter(team__in=keys))
    carried = _counted(PackagePlay.objects.filter(team__in=keys, dropped_on=None))
    practices = _next_of(Practice, keys, today)
    games = _next_of(Game, keys, today)
    return [
        TeamCard(
            team,
            squad.get(team.pk, 0),
            carried.get(team.pk, 0),
            practices.get(team.pk),
            games.get(team.pk),
        )
        for team in teams
    ]


def _counted(rows: QuerySet[Any]) -> dict[int, int]:
    """How many rows each team has."""
    return dict(rows.order_by().values_list("team").annotate(n=Count("pk")))


def _next_of(model: type[Dated], teams: list[int], today: date) -> dict[int, Dated]:
    """What comes next for each team."""
    ahead = model.objects.all().ahead(today)
    first = ahead.filter(team=OuterRef("team")).values("pk")[:1]
    rows = model.objects.filter(team__in=teams, date__gte=today, pk=Subquery(first))
    return {row.team_id: row for row in rows}
