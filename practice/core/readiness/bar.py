"""What a bar for *ready* asks for, and what it promises of a whole five.

A low bar lets a few minutes make many plays ready, a high one makes few plays sure: which, is a
choice, and this tells what each costs.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Final

from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.cell import Readiness, all_right, reps_needed
from practice.core.reps.rep import Mode

BARS: Final = (0.5, 0.6, 0.7, 0.8, 0.9)
DAYS_BEFORE: Final = 2.0
FIVE: Final = 5


@dataclass(frozen=True, slots=True)
class BarCost:
    """A bar from 0 to 1 and what it comes to.

    ``reps`` are the clean live ones in one practice, ``DAYS_BEFORE`` the game, that bring who knows
    nothing to it; ``five`` is the chance that five who have just reached it are all right.
    """

    bar: float
    reps: int
    five: float


def bar_costs(assumptions: Assumptions) -> tuple[BarCost, ...]:
    """The usual bars and the one in force, the lowest first."""
    bars = sorted({*BARS, assumptions.ready})
    start = Readiness(("", "", "1"), datetime.min.replace(tzinfo=UTC), 0.0, assumptions.carried, ())
    return tuple(
        BarCost(
            bar,
            reps_needed(start, Mode.LIVE, DAYS_BEFORE, assumptions, target=bar),
            all_right([bar] * FIVE),
        )
        for bar in bars
    )
