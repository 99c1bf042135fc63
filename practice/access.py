"""Who may see, plan and log a practice. Every coach of a team logs; the head coach plans."""

from __future__ import annotations

from practice.models import Drill, Game, Observation, Opponent, Practice
from roster.access import may_coach, teams_for
from roster.models import PackagePlay
from shared.access import one_of, require
from shared.models import User


def practice_for(user: User, pk: int) -> Practice:
    """A practice to read, or to log in. Raises Http404 for a stranger to the team."""
    rows = Practice.objects.select_related("team").filter(team__in=teams_for(user))
    return one_of(rows, pk=pk)


def planned_practice_for(user: User, pk: int) -> Practice:
    """A practice to plan. Raises Http404 or PermissionDenied."""
    practice = practice_for(user, pk)
    require(may_coach(user, practice.team))
    return practice


def game_for(user: User, pk: int) -> Game:
    """A game to read about. Raises Http404 for a stranger to the team."""
    return one_of(Game.objects.select_related("team").filter(team__in=teams_for(user)), pk=pk)


def planned_game_for(user: User, pk: int) -> Game:
    """A game to change. Raises Http404 or PermissionDenied."""
    game = game_for(user, pk)
    require(may_coach(user, game.team))
    return game


def drill_for(user: User, pk: int) -> Drill:
    """A drill to read. Raises Http404 for a stranger to its team."""
    return one_of(Drill.objects.select_related("team").filter(team__in=teams_for(user)), pk=pk)


def coached_drill_for(user: User, pk: int) -> Drill:
    """A drill to change. Raises Http404 or PermissionDenied."""
    drill = drill_for(user, pk)
    require(may_coach(user, drill.team))
    return drill


def entry_for(user: User, pk: int) -> PackagePlay:
    """A play that a team carries, or has dropped. Raises Http404 for a stranger to the team."""
    rows = PackagePlay.objects.select_related("team", "play").filter(team__in=teams_for(user))
    return one_of(rows, pk=pk)


def opponent_for(user: User, pk: int) -> Opponent:
    """An opponent to read about, or to note about. Raises Http404 for a stranger to the team."""
    return one_of(Opponent.objects.select_related("team").filter(team__in=teams_for(user)), pk=pk)


def coached_opponent_for(user: User, pk: int) -> Opponent:
    """An opponent to change. Raises Http404 or PermissionDenied."""
    opponent = opponent_for(user, pk)
    require(may_coach(user, opponent.team))
    return opponent


def observation_for(user: User, pk: int) -> Observation:
    """What was seen of an opponent, to change. Raises Http404 for a stranger to the team."""
    rows = Observation.objects.select_related("opponent__team")
    return one_of(rows.filter(opponent__team__in=teams_for(user)), pk=pk)
