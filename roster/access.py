"""Who may see and change a team and what belongs to it."""

from __future__ import annotations

from django.db.models import QuerySet
from django.http import Http404

from roster.models import Duty, PackagePlay, Player, Staff, Team
from shared.access import one_of, require
from shared.models import User


def teams_for(user: User) -> QuerySet[Team]:
    """The teams a person may see: their own, or all for who runs the club."""
    return Team.objects.all() if user.runs_club else Team.objects.filter(staff_places__user=user)


def team_for(user: User, pk: int) -> Team:
    """A team to read. Raises Http404 for a stranger to it."""
    return one_of(teams_for(user), pk=pk)


def leads(user: User, team: Team) -> bool:
    """Whether a person answers for a team: its head coach, or who runs the club."""
    if user.runs_club:
        return True
    return Staff.objects.filter(team=team, user=user, duty=Duty.HEAD).exists()


def may_coach(user: User, team: Team) -> bool:
    """Whether a person may change roster, package and cast: nobody in a season put away."""
    return team.archived_on is None and leads(user, team)


def led_team_for(user: User, pk: int) -> Team:
    """A team to end, to begin anew or to take out of the data, put away or not.

    Raises Http404 for a stranger, PermissionDenied for an assistant.
    """
    team = team_for(user, pk)
    require(leads(user, team))
    return team


def coached_team_for(user: User, pk: int) -> Team:
    """A team to change. Raises Http404 for a stranger, PermissionDenied for an assistant."""
    team = team_for(user, pk)
    require(may_coach(user, team))
    return team


def player_for(user: User, pk: int) -> Player:
    """A player to read about. Raises Http404 for a stranger to the team."""
    return one_of(Player.objects.select_related("team").filter(team__in=teams_for(user)), pk=pk)


def squad_player_for(user: User, pk: int) -> Player:
    """A player of the squad as it is now. Raises Http404 for a stranger, and for who has left."""
    player = player_for(user, pk)
    if player.left_on is not None:
        raise Http404
    return player


def coached_player_for(user: User, pk: int) -> Player:
    """A player to change. Raises Http404 or PermissionDenied."""
    player = player_for(user, pk)
    require(may_coach(user, player.team))
    return player


def led_player_for(user: User, pk: int) -> Player:
    """A player to be told of or erased, in a season put away too. Raises as led_team_for."""
    player = player_for(user, pk)
    require(leads(user, player.team))
    return player


def entry_for(user: User, pk: int) -> PackagePlay:
    """A play of a team's package. Raises Http404 for a stranger to the team."""
    rows = PackagePlay.objects.select_related("team", "play", "revision")
    rows = rows.defer("play__search", "revision__document")
    return one_of(rows.filter(team__in=teams_for(user)), pk=pk)


def coached_entry_for(user: User, pk: int) -> PackagePlay:
    """A play of a package to change. Raises Http404 or PermissionDenied."""
    entry = entry_for(user, pk)
    require(may_coach(user, entry.team))
    return entry
