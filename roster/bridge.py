"""Between the rows of the database and the values that the roster's core computes with."""

from __future__ import annotations

from collections.abc import Iterable
from typing import cast

from plays.core.calls import CallName
from plays.core.motion.sprint import BEHIND_GATE
from plays.core.motion.team_pace import TeamPace, Timed
from plays.core.play import Role
from roster.core.cast import PlayerId
from roster.core.file.roster import PlayerRow
from roster.core.names import Names
from roster.core.people import Availability as CoreAvailability
from roster.core.people import Player as PlayerValue
from roster.models import PackagePlay, Player, Team
from shared.speech import language_now


def file_row(player: Player) -> PlayerRow:
    """A player as a line of the roster file."""
    ratings = {quality: rating for quality, rating in player.ratings().items() if rating}
    return PlayerRow(
        name=player.name,
        number=player.number,
        height_cm=player.height_cm,
        positions=tuple(part for part in player.positions.split(",") if part),
        ratings=ratings,
        availability=CoreAvailability(player.availability),
    )


def player_from(row: PlayerRow) -> Player:
    """A player, not saved yet and of no team, from a line of the roster file."""
    return Player(
        name=row.name,
        number=row.number,
        height_cm=row.height_cm,
        positions=",".join(row.positions),
        availability=row.availability.value,
        **{quality.value: rating for quality, rating in row.ratings.items()},
    )


def player_value(player: Player) -> PlayerValue:
    """A player as casting sees them."""
    return PlayerValue(
        id=player.pk,
        ratings=player.ratings(),
        height_cm=player.height_cm,
        availability=CoreAvailability(player.availability),
        positions=tuple(cast("Role", part) for part in player.positions.split(",") if part),
    )


def player_values(players: Iterable[Player]) -> list[PlayerValue]:
    return [player_value(player) for player in players]


def names_of(players: Iterable[Player]) -> Names:
    """What the players of a team are called on the page that is being made."""
    people: dict[PlayerId, CallName] = {player.pk: player.call_name for player in players}
    return Names.of(people, language=language_now())


def timed(player: Player) -> Timed:
    """A player's sprint times, any of which may be missing."""
    gate = BEHIND_GATE if player.sprint_gate is None else player.sprint_gate
    return Timed(player.sprint_10, player.sprint_20, gate)


def team_pace(team: Team, entry: PackagePlay | None = None) -> TeamPace:
    """What a team knows of its own pace, with the first players of a play that it carries."""
    first = [] if entry is None else [c for c in entry.castings.all() if c.depth == 1]
    people = {cast("Role", casting.role): timed(casting.player) for casting in first}
    return TeamPace.from_json(team.pace, people)
