"""Sheets from the database: loaded once for a team, made for any of its players."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import cast

from django.db.models import QuerySet

from plays.core.calls import call_for
from plays.core.play import Role
from plays.values import play_value, read_ahead
from roster.core.cast import Assignment, Cast, PlayerId
from roster.core.coverage.stand_in import first_five
from roster.core.paper.sheet import CarriedPlay, Sheet, sheet_of
from roster.models import Availability, Casting, PackagePlay, Player, Team
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class TeamSheets:
    """What the sheets of a team are made from: three queries for any number of players."""

    team: Team
    players: Mapping[PlayerId, Player]
    package: tuple[CarriedPlay, ...]
    cast: Cast
    out: frozenset[PlayerId]
    contents: tuple[str, ...]
    revisions: Mapping[PlayerId, int]  # the revision carried of each play, by primary keys
    days: Mapping[PlayerId, str]  # and its day, in the reader's language

    def called(self, carried: CarriedPlay, language: Language) -> str:
        """The call of a play as its cast hears it; the play's name where the team has none."""
        five = first_five(self.cast, carried.id, self.out)
        names = {role: self.players[who].call_name for role, who in five.items()}
        return call_for(carried.call or carried.play.name, names, language)

    def facts(self, player: PlayerId) -> tuple[object, ...]:
        """All that a player's sheet depends on, but for the day it was made on."""
        people = [(pk, each.call_name) for pk, each in self.players.items()]
        carried = [
            (each.id, each.play.key, content, each.published, each.call, each.signal)
            for each, content in zip(self.package, self.contents, strict=True)
        ]
        said = str(self.team), self.team.language, self.team.speaks_plainly
        return (player, said, people, carried, self.cast, sorted(self.out))

    def sheet(self, player: PlayerId, made_on: date, language: Language) -> Sheet:
        """The sheet of one player. Raises KeyError for somebody outside the team."""
        people = {pk: each.call_name for pk, each in self.players.items()}
        return sheet_of(
            player,
            people,
            self.package,
            self.cast,
            team=str(self.team),
            made_on=made_on,
            language=language,
            out=self.out,
        )


def team_sheets(team: Team) -> TeamSheets:
    """Load what the sheets need. Who is out stays in the cast; the next in depth steps in."""
    entries = list(_carried(team))
    read_ahead(entry.revision for entry in entries)
    package = tuple(
        CarriedPlay(
            entry.pk, play_value(entry.revision), entry.revision.at, entry.call, entry.signal
        )
        for entry in entries
    )
    players: dict[PlayerId, Player] = {player.pk: player for player in team.players.present()}
    out = frozenset(pk for pk, who in players.items() if who.availability == Availability.OUT)
    contents = tuple(entry.revision.content_hash for entry in entries)
    revisions: dict[PlayerId, int] = {entry.pk: entry.revision_id for entry in entries}
    days: dict[PlayerId, str] = {entry.pk: entry.revision.day for entry in entries}
    return TeamSheets(team, players, package, _cast_of(entries), out, contents, revisions, days)


def _carried(team: Team) -> QuerySet[PackagePlay]:
    """No more than a sheet says of a play: it is asked for with each look at one."""
    rows = team.package.all().carried().select_related("revision")
    return rows.only(
        "team",
        "call",
        "signal",
        "priority",
        "revision__content_hash",
        "revision__published_at",
    )


def _cast_of(entries: Sequence[PackagePlay]) -> Cast:
    """The cast by primary keys, in the order of the plays; rows alone, they are the most."""
    rows = Casting.objects.filter(entry__in=[entry.pk for entry in entries])
    found: dict[int, list[Assignment]] = {entry.pk: [] for entry in entries}
    slots = rows.order_by("role", "depth").values_list("entry_id", "role", "depth", "player_id")
    for entry, role, depth, player in slots:
        found[entry].append(Assignment(entry, cast("Role", role), depth, player))
    return Cast(tuple(one for many in found.values() for one in many))
