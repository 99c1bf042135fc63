"""The five on the floor, for the bench: what they can run, who does what, who may go off."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final
from urllib.parse import urlencode

from plays.core.play import ROLES, Role, Situation
from plays.core.words.variants import OtherCall
from roster.cast.loaded import TeamCast
from roster.core.cast import Lesson, PlayerId, PlayId
from roster.core.coverage.floor_five import PlayFilling, moves, moves_in_words, the_five
from roster.core.coverage.squad import Squad
from roster.core.coverage.why_not import in_words
from roster.core.names import Names
from roster.models import PackagePlay, Player
from shared.core.numbers import hundredths

SITUATIONS: Final = tuple(each.value for each in Situation)


@dataclass(frozen=True, slots=True)
class RoleLine:
    role: Role
    name: str
    is_new: bool


@dataclass(frozen=True, slots=True)
class PlayLine:
    """A play that the five can run: its call as they hear it, and who does what."""

    entry: PackagePlay
    call: str
    roles: tuple[RoleLine, ...]
    readiness: tuple[float, ...] | None  # of the five in their roles; None where unknown
    bar: float
    others: tuple[OtherCall, ...]

    @property
    def situation(self) -> int:
        """Its place among the situations, in the order in which every list has them."""
        return SITUATIONS.index(self.entry.play.situation)

    @property
    def weakest(self) -> float | None:
        return None if self.readiness is None else min(self.readiness)

    @property
    def unlogged(self) -> int:
        """How many of the five have no rep of their role yet."""
        return sum(value <= 0 for value in self.readiness or ())

    @property
    def lacking(self) -> tuple[float, ...]:
        """Those of the five who are below the bar."""
        return tuple(value for value in self.readiness or () if value < self.bar)

    @property
    def is_ready(self) -> bool:
        return self.readiness is not None and not self.lacking

    @property
    def percent(self) -> int:
        return hundredths(self.weakest or 0.0)


@dataclass(frozen=True, slots=True)
class WhyNot:
    """A play that the five cannot run, and why, in words."""

    entry: PackagePlay
    call: str
    why: str

    @property
    def name(self) -> str:
        """The play's own name: its call may name somebody who is not on."""
        return self.entry.play.name


@dataclass(frozen=True, slots=True)
class WayOff:
    """One way to bring somebody on: who goes off for it, and what can then be run."""

    player: Player
    name: str
    five: tuple[int, ...]
    can_run: int


@dataclass(frozen=True)
class Bench:
    """The page: ``on`` are those ticked, ``was`` the last whole five before them."""

    known: TeamCast
    on: tuple[int, ...]
    was: tuple[int, ...]

    @property
    def is_five(self) -> bool:
        return len(self.on) == len(ROLES)

    @property
    def missing(self) -> int:
        return len(ROLES) - len(self.on)

    @property
    def query(self) -> str:
        """The five as an address says them."""
        return urlencode([("on", pk) for pk in self.on])

    @property
    def next_was(self) -> tuple[int, ...]:
        """The whole five that the next change is held against."""
        return self.on if self.is_five else self.was

    @cached_property
    def squad(self) -> Squad:
        return self.known.squad()

    @cached_property
    def after(self) -> tuple[PlayFilling, ...]:
        return _fillings(self.known, self.squad, self.on, self.before or self._by_cast)

    @cached_property
    def before(self) -> tuple[PlayFilling, ...]:
        """The last five's plays, where that was another five."""
        if len(self.was) != len(ROLES) or set(self.was) == set(self.on):
            return ()
        return _fillings(self.known, self.squad, self.was, self._by_cast)

    @cached_property
    def _by_cast(self) -> tuple[PlayFilling, ...]:
        """The cast's own first fives: among equal fillings, the one that the coach has made."""
        return tuple(
            PlayFilling(entry.pk, self.known.first_five(entry.pk), 1.0)
            for entry in self.known.entries
        )

    @cached_property
    def readiness(self) -> Mapping[Lesson, float] | None:
        """How ready everybody is; None where no rep is logged, so that nobody is blamed."""
        found = self.known.readiness
        return found if found and any(found.values()) else None

    @property
    def ready(self) -> int | None:
        """How many of those plays all five are ready for; None where it is not known."""
        return None if self.readiness is None else sum(line.is_ready for line in self.can)

    @cached_property
    def can(self) -> list[PlayLine]:
        earlier = {found.play: found.filling for found in self.before}
        lines = [self._line(found, earlier) for found in self.after if found.can_run]
        return sorted(lines, key=lambda line: (line.situation, -(line.weakest or 0.0)))

    @cached_property
    def cannot(self) -> list[WhyNot]:
        return [self._why(found) for found in self.after if not found.can_run]

    def _line(
        self, found: PlayFilling, earlier: Mapping[PlayId, Mapping[Role, PlayerId]]
    ) -> PlayLine:
        entry, was = self.known.by_play[found.play], earlier.get(found.play)
        names = self.known.names
        roles = tuple(
            RoleLine(role, names.player(who), was is not None and was.get(role) != who)
            for role, who in sorted(found.filling.items())
        )
        others = self.known.other_calls(entry, found.filling)
        call = self.known.call(entry, found.filling)
        return PlayLine(entry, call, roles, self._ready(found), self.bar, others)

    @property
    def bar(self) -> float:
        """From where somebody is ready: the same on every page, as the club has it."""
        return self.known.ready_now.bar if self.known.ready_now else 1.0

    def _ready(self, found: PlayFilling) -> tuple[float, ...] | None:
        if self.readiness is None:
            return None
        places = found.filling.items()
        return tuple(self.readiness.get(Lesson(who, found.play, role), 0.0) for role, who in places)

    def _why(self, found: PlayFilling) -> WhyNot:
        thrower = self.squad.throwers.get(found.play)
        phrases = [in_words(s, self.known.names, thrower) for s in found.shortages]
        return WhyNot(
            self.known.by_play[found.play], self._spoken.play(found.play), "; ".join(phrases)
        )

    @cached_property
    def _spoken(self) -> Names:
        """Calls as this five hears them; a play that it cannot run names nobody."""
        calls: dict[PlayId, str] = {
            found.play: self.known.call(self.known.by_play[found.play], found.filling)
            for found in self.after
        }
        return replace(self.known.names, plays=calls)

    @cached_property
    def moved(self) -> list[str]:
        """Who takes which role in which play after the change, in sentences.

        Of plays that could not be run before, only what falls to the one who comes on: the
        rest of these stands below with every play that can be run.
        """
        both = {found.play for found in self.before if found.can_run}
        found = [
            move
            for move in moves(self.before, self.after)
            if move.play in both or move.player not in self.was
        ]
        return list(moves_in_words(found, self._spoken)) if self.before else []

    @cached_property
    def lost(self) -> str:
        return self._calls(self.before, self.after)

    @cached_property
    def gained(self) -> str:
        return self._calls(self.after, self.before) if self.before else ""

    def _calls(self, these: Sequence[PlayFilling], others: Sequence[PlayFilling]) -> str:
        can = {found.play for found in others if found.can_run}
        plays = [f.play for f in these if f.can_run and f.play not in can]
        return self._spoken.all_plays(plays)

    @cached_property
    def coming_on(self) -> Player | None:
        """With six ticked: the one who was not in the last five."""
        fresh = [pk for pk in self.on if pk not in self.was]
        one_more = len(self.was) == len(ROLES) and set(self.was) < set(self.on)
        return self.known.players[fresh[0]] if one_more and len(fresh) == 1 else None

    @cached_property
    def ways_off(self) -> list[WayOff]:
        """Who may go off for the one who comes on, the way that keeps most plays first."""
        if self.coming_on is None:
            return []
        return sorted((self._way(pk) for pk in self.was), key=lambda way: -way.can_run)

    def _way(self, off: int) -> WayOff:
        five = tuple(pk for pk in self.on if pk != off)
        found = _fillings(self.known, self.squad, five, ())
        can = sum(filling.can_run for filling in found)
        return WayOff(self.known.players[off], self.known.names.player(off), five, can)

    @cached_property
    def apart(self) -> str:
        """The names of a pair that the staff keeps apart, when both are on."""
        pair = self.known.kept_apart(self.on)
        return self.known.names.all_players(pair) if pair else ""


def bench(known: TeamCast, on: Iterable[int], was: Iterable[int], *, fresh: bool) -> Bench:
    """The page for those ticked; ``fresh`` asks for a five to begin with."""
    able = [pk for pk in known.reckoned if pk not in known.out]
    ticked = set(on)
    picked = tuple(pk for pk in able if pk in ticked)
    last = tuple(pk for pk in dict.fromkeys(was) if pk in able)
    if fresh and not picked:
        picked = first_choice(known)
    return Bench(known, picked, last if len(last) == len(ROLES) else ())


def first_choice(known: TeamCast) -> tuple[int, ...]:
    """The first five of the first play that has a whole one."""
    for entry in known.entries:
        five = known.first_five(entry.pk)
        if len(five) == len(ROLES):
            return tuple(pk for pk in known.players if pk in five.values())
    return ()


def _fillings(
    known: TeamCast, squad: Squad, five: Collection[int], before: Sequence[PlayFilling]
) -> tuple[PlayFilling, ...]:
    if len(five) != len(ROLES) or not known.entries:
        return ()
    return the_five(squad, list(five), before)
