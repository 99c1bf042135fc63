"""What is due before the next game: players who will not be ready if nothing more is run.

Readiness fades until the game, so that somebody who is ready today can be due all the same.
What is due follows the steps: a play is walked, then run at half speed, then live.
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
class Steps:
    """How many walk-throughs come before the first half-speed rep, and of these before live.

    Reps older than ``recall_days`` do not count: who has not run a play for longer begins with
    the steps again. All our choice.
    """

    walk_first: int = 2
    half_first: int = 2
    recall_days: float = 14.0


STEPS = Steps()


@dataclass(frozen=True, slots=True)
class Due:
    """One player in one role. ``reps`` clean live ones in the practice named would be enough.

    ``walks`` and ``halves`` are the steps that have to come before them: walk-throughs, then
    reps at half speed.
    """

    cell: Cell
    now: float
    by_game: float
    reps: int
    practice: datetime | None
    walks: int = 0
    halves: int = 0


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
    *,
    steps: Steps = STEPS,
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
        walks, halves = _steps_left(own, practice or when.now, steps)
        found.append(Due(cell, now, then.value, reps, practice, walks, halves))
    return tuple(sorted(found, key=lambda one: one.by_game))


def _steps_left(own: Iterable[Touch], at: datetime, steps: Steps) -> tuple[int, int]:
    """The walk-throughs and half-speed reps that are still to come before a live one."""
    recent = [touch for touch in own if days_between(touch.at, at) <= steps.recall_days]
    beyond = [touch for touch in recent if touch.mode is not Mode.WALK_THROUGH]
    walks = steps.walk_first - sum(touch.count for touch in recent)
    halves = steps.half_first - sum(touch.count for touch in beyond)
    return max(walks, 0), max(halves, 0)
