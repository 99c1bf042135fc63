"""Making a plan better by undoing a part of it and filling the minutes again.

The greedy fills the last practices first and puts the walk-throughs of new plays there too;
once the earlier practices are filled, undoing a late one lets its minutes be used better.
Every step is deterministic, and none is kept that is not worth more.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import numpy as np

from practice.core.install.build import NothingToPlanError, model
from practice.core.install.greedy import filled, is_sound
from practice.core.install.model import Flags, Indices, Model, as_schedule, worth
from practice.core.install.question import Ask, Schedule

TIE: Final = 1e-9


def instant(ask: Ask) -> Schedule:
    """A plan at once; the fixed entries and nothing more where there is nothing to plan."""
    try:
        model_ = model(ask)
    except NothingToPlanError:
        return Schedule(ask.fixed, 0.0)
    return as_schedule(model_, instant_reps(model_))


def instant_reps(model_: Model) -> Indices:
    """Filled greedily, then each practice once more, from the last to the first."""
    reps = filled(model_, model_.fixed)
    for part in by_practice(model_):
        reps = refilled(model_, reps, part)
    return reps


def refilled(model_: Model, reps: Indices, part: Flags) -> Indices:
    """The plan with a part of it filled anew, where that is worth more; else the plan."""
    bare = np.where(part, model_.fixed, reps)
    if np.array_equal(bare, reps) or not is_sound(model_, bare):
        return reps
    again = filled(model_, bare)
    return again if worth(model_, again) > worth(model_, reps) + TIE else reps


def by_practice(model_: Model) -> Iterator[Flags]:
    """Each practice as a part, the last first."""
    for t in reversed(range(model_.shape[3])):
        yield _part(model_, practices=[t])


def parts(model_: Model) -> Iterator[Flags]:
    """All parts that are worth undoing, small and large, in a fixed order."""
    plays, _, _, practices = model_.shape
    yield from by_practice(model_)
    for t in reversed(range(1, practices)):
        yield _part(model_, practices=[t - 1, t])
    for k in range(plays):
        yield _part(model_, plays=[k])
    for k in range(plays):
        yield _part(model_, plays=[k, (k + 1) % plays])
    for k in range(plays):
        for t in range(practices):
            yield _part(model_, plays=[k], practices=[t])
    for t in range(practices):
        yield _part(model_, practices=list(range(t, practices)))


def _part(
    model_: Model, plays: list[int] | None = None, practices: list[int] | None = None
) -> Flags:
    part = np.zeros(model_.shape, dtype=bool)
    rows = list(range(model_.shape[0])) if plays is None else plays
    columns = list(range(model_.shape[3])) if practices is None else practices
    part[np.ix_(rows, range(model_.shape[1]), range(model_.shape[2]), columns)] = True
    return part
