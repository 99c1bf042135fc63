"""Sheets from the database: loaded once for a team, made for any of its players."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from plays.core.calls import CallName
from roster.casting import cast_value, package_with_cast
from roster.core.cast import Cast, PlayerId
from roster.core.sheet import CarriedPlay, Sheet, sheet_of
from roster.models import Player, Team
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class TeamSheets:
    """What the sheets of a team are made from: four queries for any number of players."""

    team: Team
    players: Mapping[PlayerId, Player]
    package: tuple[CarriedPlay, ...]
    cast: Cast

    def sheet(self, player: PlayerId, made_on: date, language: Language) -> Sheet:
        """The sheet of one player. Raises KeyError for somebody outside the team."""
        people = {pk: CallName(each.name, each.number) for pk, each in self.players.items()}
        return sheet_of(
            player,
            people,
            self.package,
            self.cast,
            team=str(self.team),
            made_on=made_on,
            language=language,
        )


def team_sheets(team: Team) -> TeamSheets:
    """Load what the sheets need. Players who are out stay in the cast: it is the coach's."""
    entries = list(package_with_cast(team))
    package = tuple(
        CarriedPlay(
            entry.pk, entry.revision.value(), entry.revision.number, entry.call, entry.signal
        )
        for entry in entries
    )
    players: dict[PlayerId, Player] = {player.pk: player for player in team.players.present()}
    return TeamSheets(team, players, package, cast_value(entries))
