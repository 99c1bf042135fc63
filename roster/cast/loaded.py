"""A team's cast with all that is asked about it: loaded once, for every page that reads it.

One story for all of them: who is marked out is out of the five, the coverage and the floor of
the sheets alike, and the next in depth steps in.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from functools import cached_property

from plays.core.calls import CallName, call_for
from plays.core.play import AgeGroup, Need, Role
from plays.core.words.variants import OtherCall, other_calls
from plays.values import play_value, read_ahead
from roster.cast.changes import cast_value, package_with_cast
from roster.core.cast import IMPORTANCE, Cast, Lesson, PlayerId, PlayId
from roster.core.coverage.fives import MOST_PLAYERS
from roster.core.coverage.matching import Known
from roster.core.coverage.squad import Squad, squad
from roster.core.coverage.stand_in import first_five
from roster.core.names import Names
from roster.models import Availability, KeptApart, PackagePlay, Player, Team
from roster.ports import ReadyNow, readiness_of
from shared.core.language import Language
from shared.speech import language_now


@dataclass(frozen=True)
class TeamCast:
    """Players by key in the order of the roster; ``apart`` are pairs that never play together."""

    team: Team
    players: Mapping[int, Player]
    entries: tuple[PackagePlay, ...]
    apart: tuple[tuple[int, int], ...]
    language: Language

    @cached_property
    def cast(self) -> Cast:
        """Every assignment of somebody who is still on the team."""
        whole = cast_value(self.entries)
        return Cast(tuple(a for a in whole.assignments if a.player in self.players))

    @cached_property
    def out(self) -> frozenset[PlayerId]:
        """Who is marked out on the roster."""
        away = (pk for pk, who in self.players.items() if who.availability == Availability.OUT)
        return frozenset(away)

    @cached_property
    def reckoned(self) -> tuple[int, ...]:
        """The players whose fives are reckoned with: all of them in any team of usual size."""
        if len(self.players) <= MOST_PLAYERS:
            return tuple(self.players)
        order = sorted(self.players, key=lambda pk: (pk in self.out, -len(self.cast.of(pk))))
        kept = set(order[:MOST_PLAYERS])
        return tuple(pk for pk in self.players if pk in kept)

    @cached_property
    def people(self) -> Mapping[PlayerId, CallName]:
        return {pk: who.call_name for pk, who in self.players.items()}

    @cached_property
    def by_play(self) -> Mapping[PlayId, PackagePlay]:
        return {entry.pk: entry for entry in self.entries}

    @cached_property
    def names(self) -> Names:
        """What players and plays are called: a play by its call, as its first five hears it."""
        calls: dict[PlayId, str] = {entry.pk: self.call(entry) for entry in self.entries}
        return Names.of(self.people, calls, self.language)

    @property
    def group(self) -> AgeGroup:
        return AgeGroup(self.team.age_group)

    def call(self, entry: PackagePlay, five: Mapping[Role, PlayerId] | None = None) -> str:
        """The call of a play for a five; without one, for the first five that can play."""
        who = self.first_five(entry.pk) if five is None else five
        return call_for(entry.call, self._called(who), self.language)

    def other_calls(
        self, entry: PackagePlay, five: Mapping[Role, PlayerId]
    ) -> tuple[OtherCall, ...]:
        """The play's further calls as a five hears them."""
        return other_calls(play_value(entry.revision), self._called(five), self.language)

    def _called(self, five: Mapping[Role, PlayerId]) -> dict[Role, CallName]:
        return {role: self.people[player] for role, player in five.items()}

    def first_five(self, play: PlayId, also_out: Collection[PlayerId] = ()) -> dict[Role, PlayerId]:
        return first_five(self.cast, play, self.out | frozenset(also_out))

    def needs(self, entry: PackagePlay) -> tuple[Need, ...]:
        return play_value(entry.revision).needs

    @cached_property
    def ready_now(self) -> ReadyNow | None:
        """How ready everybody is by the logged reps, or None where nobody keeps them."""
        return readiness_of(self.team)

    @property
    def readiness(self) -> Mapping[Lesson, float] | None:
        return self.ready_now.values if self.ready_now else None

    def squad(
        self,
        also_out: Collection[PlayerId] = (),
        *,
        only_ready: bool = False,
        only: Known | None = None,
    ) -> Squad:
        """Who knows what, with those out left out; ``only`` (fives,) are the fives to count."""
        minutes: dict[PlayerId, float] = {
            pk: float(self.players[pk].expected_minutes or 0)
            for pk in self.reckoned
            if self.players[pk].expected_minutes is not None
        }
        if not any(minutes.values()):
            minutes = {}
        made = squad(
            self.reckoned,
            [entry.pk for entry in self.entries],
            self.cast,
            readiness=self.readiness if only_ready else None,
            ready=self.ready_now.bar if self.ready_now else 1.0,
            minutes=minutes,
            never_together=self.apart,
            importance={entry.pk: IMPORTANCE[entry.priority] for entry in self.entries},
            throwers=self._throwers(),
            only=only,
        )
        return made.without(self.out | frozenset(also_out))

    def kept_apart(self, five: Collection[PlayerId]) -> tuple[int, int] | None:
        """A pair of these that the staff keeps apart, or None."""
        return next((pair for pair in self.apart if set(pair) <= set(five)), None)

    def _throwers(self) -> dict[PlayId, Role]:
        values = {entry.pk: play_value(entry.revision).thrower for entry in self.entries}
        return {play: role for play, role in values.items() if role is not None}


def team_cast(team: Team) -> TeamCast:
    """Everything in five queries, whatever the size of squad and package."""
    pairs = KeptApart.objects.filter(team=team).values_list("one_id", "other_id")
    entries = tuple(package_with_cast(team))
    read_ahead(entry.revision for entry in entries)
    return TeamCast(
        team,
        {player.pk: player for player in team.players.present()},
        entries,
        tuple(pairs),
        language_now(),
    )
