"""How likely a player is to do a role right on a date, from the logged reps.

For a player, play and role, on a moment T, with practices t held before it::

    S = carried + sum over t of (sum of worth over the reps of t) ** massing * age_t ** -decay
    R = 1 / (1 + exp(-(ln S - threshold - offsets) / spread))

S is the strength, in equivalent fresh live reps; ages are days, at least ``youngest``. With
massing 1, one rep a day and a decay of 0.5 this is exactly the base-level learning of ACT-R.
Who has only walked through a role stays just short of ready, however often (our choice).
It is a rehearsal index: an estimate from reps, and no promise about a game.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from plays.core.play import Role
from practice.core.instants import days_between
from practice.core.readiness.assumptions import NO_OFFSETS, Assumptions, Offsets
from practice.core.reps.rep import Id, Mode, Touch
from shared.core.language import N_, Language
from shared.core.numbers import hundredths

ALL_FIVE: Final = N_("all five right about {n} times in 100")
SELDOM: Final = N_("all five right less than twice in 100")

Cell = tuple[Id, Id, Role]  # player, play, role


@dataclass(frozen=True, slots=True)
class Contribution:
    """What one practice adds to a strength, and from which reps."""

    practice: Id
    held: datetime
    age: float
    clean: Mapping[Mode, int]
    errors: Mapping[Mode, int]
    worth: float
    strength: float

    @property
    def is_faster(self) -> bool:
        """Whether anything but walking through was run."""
        return any(mode is not Mode.WALK_THROUGH for mode in (*self.clean, *self.errors))


@dataclass(frozen=True, slots=True)
class Readiness:
    """An estimate with everything it is made of."""

    cell: Cell
    on: datetime
    value: float
    strength: float
    contributions: tuple[Contribution, ...]

    @property
    def reps(self) -> int:
        return sum(sum(c.clean.values()) + sum(c.errors.values()) for c in self.contributions)

    @property
    def clean(self) -> int:
        return sum(sum(c.clean.values()) for c in self.contributions)


def readiness(
    history: Iterable[Touch],
    cell: Cell,
    on: datetime,
    assumptions: Assumptions,
    offsets: Offsets = NO_OFFSETS,
) -> Readiness:
    """Readiness of one cell on a moment.

    A practice counts, with all its reps, from its first rep of the cell on.
    """
    practices: dict[Id, list[Touch]] = {}
    for touch in history:
        if (touch.player, touch.play, touch.role) == cell:
            practices.setdefault(touch.practice, []).append(touch)
    contributions = tuple(
        sorted(
            (
                _contribution(key, same, on, assumptions)
                for key, same in practices.items()
                if min(touch.at for touch in same) <= on
            ),
            key=lambda c: c.held,
        )
    )
    strength = assumptions.carried + sum(c.strength for c in contributions)
    value = chance(strength, assumptions, offsets.of(cell[0], cell[1]))
    if not any(c.is_faster for c in contributions):
        value = min(value, short_of(assumptions.ready))
    return Readiness(cell, on, value, strength, contributions)


def curve(
    history: Iterable[Touch],
    cell: Cell,
    moments: Sequence[datetime],
    assumptions: Assumptions,
    offsets: Offsets = NO_OFFSETS,
) -> tuple[tuple[datetime, float], ...]:
    """Readiness of one cell on each moment, for drawing."""
    own = tuple(t for t in history if (t.player, t.play, t.role) == cell)
    return tuple((on, readiness(own, cell, on, assumptions, offsets).value) for on in moments)


def sampled(
    first: datetime, last: datetime, held: Iterable[datetime], steps: int
) -> tuple[datetime, ...]:
    """Moments at which a curve is drawn true: even ones, and just before and at each rep."""
    step = (last - first) / steps
    even = (first + n * step for n in range(steps + 1))
    risen = (each for at in held for each in (at - timedelta(seconds=1), at) if each <= last)
    return tuple(sorted({*even, *risen}))


def chance(strength: float, assumptions: Assumptions, offset: float = 0.0) -> float:
    """The logistic of a strength; 0 for none."""
    if strength <= 0:
        return 0.0
    x = (math.log(strength) - assumptions.threshold - offset) / assumptions.spread
    return 1 / (1 + math.exp(-x)) if x > -700 else 0.0


def short_of(ready: float) -> float:
    """The most that walking through alone gives: one hundredth below the bar."""
    return max(0.0, ready - 0.01)


def all_right(values: Iterable[float]) -> float:
    """The chance that all of these do their role right, taken as independent of each other."""
    return math.prod(values)


def in_hundred(chance: float, language: Language) -> str:
    """The chance that a whole five does it right, in words."""
    times = hundredths(chance)
    return language.say(ALL_FIVE, n=times) if times > 1 else language.say(SELDOM)


def strength_for(value: float, assumptions: Assumptions, offset: float = 0.0) -> float:
    """The strength at which readiness has this value. Raises ValueError outside (0, 1)."""
    if not 0 < value < 1:
        raise ValueError(f"no strength gives a readiness of {value}")
    odds = math.log(value / (1 - value))
    return math.exp(assumptions.threshold + offset + assumptions.spread * odds)


def reps_needed(
    now: Readiness,
    mode: Mode,
    days_before: float,
    assumptions: Assumptions,
    *,
    target: float | None = None,
    offset: float = 0.0,
) -> int:
    """Clean reps in one more practice, ``days_before`` the date, that reach the target.

    The target is the assumptions' ``ready`` unless given. Raises ValueError for a mode that
    is worth nothing.
    """
    goal = strength_for(assumptions.ready if target is None else target, assumptions, offset)
    missing = goal - now.strength
    if missing <= 0:
        return int(now.value < assumptions.ready) if target is None else 0
    worth = assumptions.worth(mode, clean=True)
    if worth <= 0:
        raise ValueError(f"{mode} reps are worth nothing under these assumptions")
    age = max(days_before, assumptions.youngest)
    needed = missing * age**assumptions.decay
    return math.ceil(math.pow(needed, 1 / assumptions.massing) / worth - 1e-9)


def _contribution(
    practice: Id, same: Sequence[Touch], on: datetime, assumptions: Assumptions
) -> Contribution:
    held = min(touch.at for touch in same)
    age = max(days_between(held, on), assumptions.youngest)
    worth = sum(t.count * assumptions.worth(t.mode, clean=t.clean) for t in same)
    return Contribution(
        practice,
        held,
        age,
        _count(same, clean=True),
        _count(same, clean=False),
        worth,
        worth**assumptions.massing * age**-assumptions.decay if worth > 0 else 0.0,
    )


def _count(same: Sequence[Touch], *, clean: bool) -> dict[Mode, int]:
    counts: dict[Mode, int] = {}
    for touch in same:
        if touch.clean is clean:
            counts[touch.mode] = counts.get(touch.mode, 0) + touch.count
    return counts
