"""The end of a season: a team that is kept for reading, or taken away with all that it holds."""

from __future__ import annotations

from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from practice.dates.feeds import withdraw_all
from practice.models import CalledPlay, Game, Opponent, Practice, Rep
from practice.privacy.clearing import begin_clearing
from roster.models import PlayerLink, Team
from roster.squad.links import withdraw_links
from shared.models import User
from shared.record import forget_team, note_change


@dataclass(frozen=True, slots=True)
class TeamRows:
    """How much goes with a team."""

    players: int
    plays: int
    practices: int
    games: int
    reps: int
    opponents: int


def rows_of(team: Team) -> TeamRows:
    return TeamRows(
        players=team.players.count(),
        plays=team.package.count(),
        practices=Practice.objects.filter(team=team).count(),
        games=Game.objects.filter(team=team).count(),
        reps=Rep.objects.filter(practice__team=team).count(),
        opponents=Opponent.objects.filter(team=team).count(),
    )


@transaction.atomic
def put_away(team: Team, user: User) -> None:
    """Keep a team for reading: its personal links and calendars open no more."""
    team = Team.objects.select_for_update().get(pk=team.pk)
    if team.archived_on is not None:
        return
    team.archived_on = timezone.localdate()
    team.save(update_fields=["archived_on"])
    withdraw_links(PlayerLink.objects.filter(player__team=team), timezone.now())
    withdraw_all(team)
    note_change(user, "put a season away", team, team=team.pk)


@transaction.atomic
def bring_back(team: Team, user: User) -> None:
    """Let a team be changed again. Its links stay withdrawn: new ones are handed out."""
    team = Team.objects.select_for_update().get(pk=team.pk)
    if team.archived_on is None:
        return
    team.archived_on = None
    team.save(update_fields=["archived_on"])
    note_change(user, "brought a season back", team, team=team.pk)


def take_away(team: Team, user: User) -> None:
    """Delete a team with everything in it, and what the record of changes tells of its people."""
    with transaction.atomic():
        name, key = str(team), team.pk
        Rep.objects.filter(practice__team=team).delete()  # they hold on to their plays
        CalledPlay.objects.filter(game__team=team).delete()
        team.delete()
        forget_team(key)
        note_change(user, "deleted a team", name, team=key)
        begin_clearing()
