"""Making a plan better by undoing a part of it and filling the minutes again.

The greedy fills the last practices first and puts the walk-throughs of new plays there too;
once the earlier practices are filled, undoing a late one lets its minutes be used better. Parts
drawn by chance get further than any fixed round of them; a few of the plays in one are made ready
before the rest is filled. No step is kept that is not worth more.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from practice.core.install.build import NothingToPlanError, model
from practice.core.install.getting_ready import aimed, lifted
from practice.core.install.greedy import filled, is_sound
from practice.core.install.model import Flags, Indices, Model, as_schedule, worth
from practice.core.install.question import Ask, Schedule

TIE: Final = 1e-9
# How parts are drawn: our choice, by what got furthest in two seconds on drawn questions.
RUNS: Final = 0.25  # share of runs of practices; of the others the shares that are undone
SHARES: Final = (0.15, 0.3, 0.5, 0.8)
MOST_DRAWN: Final = 6  # plays undone in a run of practices
MOST_FIRST: Final = 3


def instant(ask: Ask) -> Schedule:
    """A plan at once; the fixed entries and nothing more where there is nothing to plan."""
    try:
        model_ = aimed(model(ask))
    except NothingToPlanError:
        return Schedule(ask.fixed, 0.0)
    return as_schedule(model_, instant_reps(model_))


def instant_reps(model_: Model) -> Indices:
    """Filled greedily, then each practice once more, from the last to the first."""
    reps = filled(model_, model_.fixed)
    for part in by_practice(model_):
        reps = refilled(model_, reps, part)
    return reps


def refilled(model_: Model, reps: Indices, part: Flags, first: Sequence[int] = ()) -> Indices:
    """The plan with a part of it filled anew, where that is worth more; else the plan.

    The plays of ``first`` are made ready before the rest is filled, where that fits in.
    """
    bare = np.where(part, model_.fixed, reps)
    if np.array_equal(bare, reps) or not is_sound(model_, bare):
        return reps
    for k in first:
        made = lifted(model_, bare, k)
        bare = bare if made is None else made
    again = filled(model_, bare)
    return again if worth(model_, again) > worth(model_, reps) + TIE else reps


def by_practice(model_: Model) -> Iterator[Flags]:
    """Each practice as a part, the last first."""
    for t in reversed(range(model_.shape[3])):
        part = np.zeros(model_.shape, dtype=bool)
        part[..., t] = True
        yield part


def drawn_part(model_: Model, chance: np.random.Generator) -> tuple[Flags, list[int]]:
    """A part of a plan, and which plays of it are to be made ready first, at most a few.

    Mostly plays here and there in practices here and there, now and then some plays in a run of
    practices: each alone gets less far in the same time.
    """
    drawn = _run(model_, chance) if chance.random() < RUNS else _scattered(model_, chance)
    plays = chance.permutation(np.flatnonzero(drawn.any(axis=1)))
    first = plays[: int(chance.integers(0, MOST_FIRST + 1))].tolist()
    return np.broadcast_to(drawn[:, None, None, :], model_.shape), first


def _scattered(model_: Model, chance: np.random.Generator) -> Flags:
    """Each play in each practice with the same probability, (K, T)."""
    plays, _, _, practices = model_.shape
    drawn = chance.random((plays, practices)) < chance.choice(SHARES)
    return np.asarray(drawn)


def _run(model_: Model, chance: np.random.Generator) -> Flags:
    """Some plays in practices that follow each other, (K, T); of one practice all plays."""
    plays, _, _, practices = model_.shape
    span = int(chance.integers(1, practices + 1))
    since = int(chance.integers(0, practices - span + 1))
    count = int(chance.integers(1, min(plays, MOST_DRAWN) + 1)) if span > 1 else plays
    drawn = np.zeros((plays, practices), dtype=bool)
    drawn[np.ix_(chance.permutation(plays)[:count], np.arange(since, since + span))] = True
    return drawn
