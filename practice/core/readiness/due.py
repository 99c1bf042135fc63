"""What is due before the next game: players who will not be ready if nothing more is run.

Readiness fades until the game, so that somebody who is ready today can be due all the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from practice.core.instants import days_between
from practice.core.readiness.assumptions import NO_OFFSETS, Assumptions, Offsets
from practice.core.readiness.cell import Cell, readiness, reps_needed
from practice.core.reps.rep import Mode, Touch

DAY_BEFORE = 1.0  # days: where no practice is known, the reps are counted for the day before


@dataclass(frozen=True, slots=True)
class Due:
    """One player in one role. ``reps`` clean live ones in the practice named would be enough."""

    cell: Cell
    now: float
    by_game: float
    reps: int
    practice: datetime | None


@dataclass(frozen=True, slots=True)
class DueFor:
    """What the question is about: the moment, the game, and the practices before it."""

    now: datetime
    game: datetime
    practices: tuple[datetime, ...] = ()

    @property
    def last_practice(self) -> datetime | None:
        left = [at for at in self.practices if self.now <= at < self.game]
        return max(left, default=None)


def due(
    history: Sequence[Touch],
    cells: Iterable[Cell],
    when: DueFor,
    assumptions: Assumptions,
    offsets: Offsets = NO_OFFSETS,
) -> tuple[Due, ...]:
    """Every cell that will not be ready, the least ready first."""
    by_cell: dict[Cell, list[Touch]] = {}
    for touch in history:
        by_cell.setdefault((touch.player, touch.play, touch.role), []).append(touch)
    found = []
    for cell in cells:
        own = by_cell.get(cell, [])
        then = readiness(own, cell, when.game, assumptions, offsets)
        if then.value >= assumptions.ready:
            continue
        practice = when.last_practice
        days = DAY_BEFORE if practice is None else days_between(practice, when.game)
        offset = offsets.of(cell[0], cell[1])
        reps = reps_needed(then, Mode.LIVE, days, assumptions, offset=offset)
        now = readiness(own, cell, when.now, assumptions, offsets).value
        found.append(Due(cell, now, then.value, reps, practice))
    return tuple(sorted(found, key=lambda one: one.by_game))
