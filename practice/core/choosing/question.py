"""Which plays a team should carry: what is asked, and what is answered. Values only.

A package has to cover occasions, hold there against what opponents do, suit the squad, and be
learnt in the minutes there are. ``learning`` says what a play takes to learn, ``score`` what a
package is worth, ``quick`` answers at once, ``programme`` finds the best.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from types import MappingProxyType
from typing import Final

from plays.core.defence.verdict import Tactic
from practice.core.learning.coming import KINDS
from roster.core.cast import PlayId


class Occasion(StrEnum):
    """When a play is called for. The two sidelines are two: a play is drawn for one of them."""

    LEFT = "left"
    RIGHT = "right"
    BASELINE = "baseline"
    PRESSURE = "press_break"
    LAST_SHOT = "last_shot"
    HALF_COURT = "half_court"
    AFTER_TIMEOUT = "after_timeout"


USUAL_OCCASIONS: Final = (
    Occasion.LEFT,
    Occasion.RIGHT,
    Occasion.BASELINE,
    Occasion.PRESSURE,
    Occasion.LAST_SHOT,
)
"""What a package has to cover unless the coach says otherwise: our choice, after the trade."""

HOLD_AGAINST: Final = 2  # defences that a package should hold against on every occasion
SECOND: Final = 0.3  # what the second best play counts beside the best, once that is known; ours
PRICE: Final = 0.001  # of each play: where two packages are worth the same the smaller one; ours


class RuledOut(StrEnum):
    """Why a play is not to be chosen, unless the coach pins it."""

    LEVEL = "level"  # meant for older players
    SERIOUS = "serious"  # the check finds something serious, whatever the defence does
    UNCHECKED = "unchecked"  # the check has not got to it yet
    NO_FIVE = "no_five"  # not five players who can be cast
    TIME = "time"  # no practice left teaches it


@dataclass(frozen=True, slots=True)
class Candidate:
    """A play that may be chosen.

    ``covers`` are its occasions as it is drawn, ``turned`` those it has besides once it is taught
    from the other side too. Minutes of practice: ``minutes`` to make its first five ready,
    ``turning`` for the other side, ``saves`` what it takes less where another play of its series
    is learnt first. ``worth`` is from 0 to 1 by defence; ``holds`` are the defences against which
    it has a look. ``begins``: nobody has run it yet.
    """

    id: PlayId
    covers: frozenset[Occasion]
    turned: frozenset[Occasion] = frozenset()
    series: str = ""
    minutes: float = 0.0
    turning: float = 0.0
    saves: Mapping[PlayId, float] = field(default_factory=dict)
    worth: Mapping[Tactic, float] = field(default_factory=dict)
    holds: frozenset[Tactic] = frozenset()
    begins: bool = True
    bar: RuledOut | None = None


@dataclass(frozen=True)
class PackageQuestion:
    """The whole question.

    ``shares`` are the parts of the opponents' defences, taken to sum 1; without any, nobody knows,
    and all of KINDS count the same. ``minutes`` is the time for learning, ``beginnings`` how many
    plays may be begun in it. ``count`` fixes how many plays. A pin beats a bar, a ban beats a pin.
    """

    candidates: tuple[Candidate, ...]
    occasions: tuple[Occasion, ...] = USUAL_OCCASIONS
    minutes: float = 0.0
    beginnings: int = 1000
    shares: Mapping[Tactic, float] = field(default_factory=dict)
    pins: frozenset[PlayId] = frozenset()
    bans: frozenset[PlayId] = frozenset()
    count: int | None = None

    @cached_property
    def by_id(self) -> Mapping[PlayId, Candidate]:
        return MappingProxyType({one.id: one for one in self.candidates})

    @cached_property
    def open(self) -> tuple[Candidate, ...]:
        """What may be chosen: no ban, and no bar but of what is pinned."""
        return tuple(
            one
            for one in self.candidates
            if one.id not in self.bans and (one.bar is None or one.id in self.pins)
        )

    @cached_property
    def pinned(self) -> frozenset[PlayId]:
        """The pins that are plays of the question, and not banned."""
        return frozenset(one.id for one in self.open if one.id in self.pins)

    @cached_property
    def faced(self) -> Mapping[Tactic, float]:
        """The parts of the defences that opponents play, which sum to 1."""
        known = {tactic: share for tactic, share in self.shares.items() if share > 0}
        total = sum(known.values())
        if not total:
            return MappingProxyType({tactic: 1 / len(KINDS) for tactic in KINDS})
        return MappingProxyType({tactic: share / total for tactic, share in known.items()})

    @property
    def against(self) -> int:
        """How many defences a package should hold against on an occasion."""
        return min(HOLD_AGAINST, len(self.faced))


class PinnedTooMuchError(ValueError):
    """The pinned plays cannot be carried together.

    ``needed`` of ``room`` is minutes, or with ``what`` "plays" or "beginnings" numbers of plays.
    """

    def __init__(self, what: str, needed: float, room: float) -> None:
        super().__init__(f"{what}: {needed} of {room}")
        self.what, self.needed, self.room = what, needed, room


@dataclass(frozen=True, slots=True, order=True)
class PackageScore:
    """What a package is worth; of two the first greater number decides.

    ``covered`` counts occasions, ``held`` pairs of occasion and defence, on each occasion up to
    as many as the question wants; ``worth`` is from 0 to 1.3, less the price of the plays.
    """

    covered: int
    held: int
    worth: float


@dataclass(frozen=True, slots=True)
class ChosenPackage:
    """A package: its plays in the question's order, those taught from both sides, its score.

    ``first`` names for each series the play that is learnt first, ``minutes`` what all takes.
    ``bound`` is a worth that no package exceeds, None where it was not worked out.
    """

    picks: tuple[PlayId, ...]
    turned: frozenset[PlayId]
    first: Mapping[str, PlayId]
    minutes: float
    score: PackageScore
    bound: float | None = None

    @property
    def gap(self) -> float | None:
        """By what part of the bound the worth may fall short of the best; 0 when proved."""
        if self.bound is None:
            return None
        return max(0.0, (self.bound - self.score.worth) / max(abs(self.bound), 1e-9))
