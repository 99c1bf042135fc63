"""What is due before the next game: players who will not be ready if nothing more is run.

Readiness fades until the game, so that somebody who is ready today can be due all the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from plays.core.play import ROLES
from practice.core.instants import days_between
from practice.core.readiness.assumptions import NO_OFFSETS, Assumptions, Offsets
from practice.core.readiness.cell import Cell, readiness, reps_needed
from practice.core.readiness.grid import Grid
from practice.core.reps.rep import Id, Mode, Touch

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


def cast_cells(play: Id, cast: Mapping[str, Sequence[Id]], depth: int = 1) -> tuple[Cell, ...]:
    """The cells of a play's cast down to a depth, first-depth players first."""
    return tuple(
        (cast[role][rank], play, role)
        for rank in range(depth)
        for role in ROLES
        if rank < len(cast.get(role, ()))
    )


def ready_cells(values: Grid, ready: float) -> frozenset[Cell]:
    """Who is ready for what: coverage can count these instead of whoever is assigned."""
    return frozenset(
        (who, play, role)
        for p, who in enumerate(values.players)
        for k, play in enumerate(values.plays)
        for r, role in enumerate(ROLES)
        if values.value[p, k, r] >= ready
    )


def curve_moments(
    history: Iterable[Touch], cell: Cell, start: datetime, end: datetime, step: timedelta
) -> tuple[datetime, ...]:
    """Moments at which to draw a cell's curve: evenly, and on both sides of every practice."""
    moments = {start, end}
    at = start
    while at < end:
        moments.add(at)
        at += step
    held: dict[Id, datetime] = {}
    for touch in history:
        if (touch.player, touch.play, touch.role) == cell:
            held[touch.practice] = min(touch.at, held.get(touch.practice, touch.at))
    for first in held.values():
        moments |= {first - timedelta(seconds=1), first}
    return tuple(sorted(moment for moment in moments if start <= moment <= end))
