"""The install question as arrays, and the exact worth of a plan.

A plan is an integer array of reps with the axes play, unit, mode, practice. A *cell* is one
player in one role of one play, as in ``readiness``; each cell is judged on up to two moments
(*exams*): the deadline of its play and the game. In a practice the reps of a cell, weighted
by mode and by the expected share of clean ones, are its *effort*; strength is the sum over
practices of effort ** massing * age ** -decay, and worth the weighted logistic of it, with
bonuses, the greatest of them for a play whose five are all ready on game day.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.play import Role
from practice.core.install.question import Ask, PracticeSlot, Schedule, ScheduleEntry
from practice.core.readiness.assumptions import Assumptions
from practice.core.reps.rep import PRACTICE_MODES, Id, Mode

Numbers = NDArray[np.float64]
Indices = NDArray[np.int64]
Flags = NDArray[np.bool_]

EXAMS: Final = 2
WALK: Final = PRACTICE_MODES.index(Mode.WALK_THROUGH)
HALF: Final = PRACTICE_MODES.index(Mode.HALF_SPEED)
LIVE: Final = PRACTICE_MODES.index(Mode.LIVE)
EVEN: Final = 1e-9  # a readiness so close below the bar has reached it

Place = tuple[int, Role, Id]  # of a cell: number of the play, role, player


@dataclass(frozen=True, slots=True, eq=False)
class Model:
    """Arrays for a question. Shapes: K plays, U units, M modes, T practices, C cells, 5 roles.

    ``fives`` (K, U, T, 2, 5) holds the cell in each role, -1 for a stand-in who is not cast, -2
    where there is no five, which a locked entry may still ask for;
    its fourth axis is 0 for quiet modes and 1 for live, where limited players stay out.
    ``play_of`` (C) numbers the play of each cell.
    ``can`` (K, U, M, T) says where a five exists, ``leading`` (the same) where it is mostly
    of the first depth, ``second`` where it is not. ``first`` (C) marks first-depth cells,
    ``full`` (K) plays with one in each role; ``wanted`` (C) is the strength at which a cell is
    ready, ``faster`` (C) whether its history has more than walking through. ``counts`` (K) are
    the plays that reps are planned for.
    ``weight``, ``start`` (C, exams) are what a cell counts and its strength from the history;
    ``shift`` (C) its offset;
    ``fade`` (C, exams, T) is age ** -decay, 0 where the practice comes after the exam.
    ``fixed`` are the locked reps; ``room`` (T) and ``play_room`` (K, T) the minutes there
    are; ``new_room`` (T) how many plays may begin. ``walked`` and ``halved`` (K, U) are the
    reps that the unit has behind it, in any mode and at half speed or faster; ``lives`` and
    ``seconds`` (K) past live reps, and past reps of the second depth. ``late`` (T) marks the
    practices within the last days before the game.
    """

    ask: Ask
    slots: tuple[PracticeSlot, ...]
    cells: tuple[Place, ...]
    play_of: Indices
    first: Flags
    full: Flags
    wanted: Numbers
    faster: Flags
    counts: Flags
    weight: Numbers
    shift: Numbers
    start: Numbers
    fade: Numbers
    fives: Indices
    can: Flags
    second: Flags
    leading: Flags
    fixed: Indices
    minutes: Numbers
    setup: Numbers
    room: Numbers
    play_room: Numbers
    effort: Numbers
    walked: Indices
    halved: Indices
    is_new: Flags
    new_room: Indices
    late: Flags
    lives: Indices
    seconds: Indices
    priority: Numbers

    @property
    def shape(self) -> tuple[int, int, int, int]:
        plays, units, modes, practices = self.can.shape
        return plays, units, modes, practices

    @property
    def assumptions(self) -> Assumptions:
        return self.ask.assumptions


def efforts(model_: Model, reps: Indices) -> Numbers:
    """Effort of every cell in every practice, (C, T)."""
    plays, units, _, practices = model_.shape
    total = np.zeros((len(model_.cells) + 2, practices))
    quiet = np.einsum("kumt,m->kut", reps[:, :, :LIVE], model_.effort[:LIVE])
    live = reps[:, :, LIVE] * model_.effort[LIVE]
    index = np.broadcast_to(np.arange(practices)[:, None], (plays, units, practices, 5))
    for kind, amount in ((0, quiet), (1, live)):
        spread = np.broadcast_to(amount[..., None], index.shape)
        np.add.at(total, (model_.fives[:, :, :, kind], index), spread)
    return total[:-2]  # the last two rows gather stand-ins (-1) and a locked entry's nobody (-2)


def strengths(model_: Model, reps: Indices) -> Numbers:
    """Strength of every cell at each exam, (C, exams)."""
    gain = efforts(model_, reps) ** model_.assumptions.massing
    total = model_.start + np.einsum("cjt,ct->cj", model_.fade, gain)
    return np.asarray(total, dtype=np.float64)


def only_walked(model_: Model, reps: Indices) -> Flags:
    """Cells (C) that neither the log nor the plan takes beyond walking through."""
    faster = reps.copy()
    faster[:, :, WALK] = 0
    return np.asarray(~model_.faster & (efforts(model_, faster).sum(axis=1) == 0))


def ready_plays(model_: Model, reps: Indices, values: Numbers) -> Flags:
    """Plays (K) whose five first are all at the bar on game day; ``values`` are (C, exams)."""
    up = values[:, 0] >= model_.assumptions.ready - EVEN
    if not all_up(model_, up).any():
        return np.zeros(len(model_.full), dtype=bool)
    return all_up(model_, up & ~only_walked(model_, reps))


def all_up(model_: Model, up: Flags) -> Flags:
    """Plays (K) with a first in each role who are all marked, by cell."""
    down = np.bincount(model_.play_of[model_.first & ~up], minlength=len(model_.full))
    return np.asarray(model_.full & (down == 0))


def chances(model_: Model, strength: Numbers, cells: Indices | slice = slice(None)) -> Numbers:
    """Readiness for strengths whose first axis are the given cells."""
    shift = model_.shift[cells]
    shift = shift.reshape(shift.shape + (1,) * (strength.ndim - shift.ndim))
    with np.errstate(divide="ignore", over="ignore"):
        x = (np.log(strength) - model_.assumptions.threshold - shift) / model_.assumptions.spread
        return np.asarray(1 / (1 + np.exp(-x)), dtype=np.float64)


def worth(model_: Model, reps: Indices) -> float:
    """The exact worth of a plan: weighted readiness, the bonuses, and one for each ready play."""
    value = chances(model_, strengths(model_, reps))
    total = (model_.weight * value).sum() + bonuses(model_, reps).sum()
    return float(total + (ready_plays(model_, reps, value) * ready_bonuses(model_)).sum())


def ready_bonuses(model_: Model) -> Numbers:
    """What it is worth that a play is ready on game day, (K)."""
    return np.asarray(model_.ask.rules.ready_bonus * model_.priority * model_.counts)


def bonuses(model_: Model, reps: Indices) -> Numbers:
    """Per play (K): last touch by the first five, enough live reps, a share for the second."""
    rules = model_.ask.rules
    leading = (reps * model_.leading)[..., model_.late]
    touched = leading.any(axis=(1, 2, 3)) * rules.touch_bonus
    live = _share(model_.lives + live_reps(reps), rules.least_live)
    second = _share(model_.seconds + second_reps(model_, reps), rules.least_second)
    total = touched + live * rules.live_bonus + second * rules.second_bonus
    return np.asarray(total * model_.priority, dtype=np.float64)


def live_reps(reps: Indices) -> Indices:
    """Live reps of each play in the plan, (K)."""
    return np.asarray(reps[:, :, LIVE].sum(axis=(1, 2)), dtype=np.int64)


def second_reps(model_: Model, reps: Indices) -> Indices:
    """Reps of each play by fives that are mostly of the second depth, (K)."""
    return np.asarray((reps * model_.second).sum(axis=(1, 2, 3)), dtype=np.int64)


def minutes_used(model_: Model, reps: Indices) -> Numbers:
    """Minutes of each play in each practice with its set-up, (K, T)."""
    used = np.einsum("kumt,m->kt", reps, model_.minutes)
    return np.asarray(used + model_.setup[:, None] * reps.any(axis=(1, 2)), dtype=np.float64)


def as_schedule(model_: Model, reps: Indices) -> Schedule:
    """The plan as entries in the order of practices, plays, units and modes."""
    slots = model_.slots
    entries = tuple(
        ScheduleEntry(
            slots[t].practice,
            model_.ask.plays[k].play,
            model_.ask.units[u].id,
            PRACTICE_MODES[m],
            int(reps[k, u, m, t]),
        )
        for t, k, u, m in sorted((t, k, u, m) for k, u, m, t in np.argwhere(reps > 0).tolist())
    )
    return Schedule(entries, worth(model_, reps))


def as_reps(model_: Model, entries: Sequence[ScheduleEntry]) -> Indices:
    """The inverse of ``as_schedule``; entries outside the question are left out."""
    return counted(model_.ask, model_.slots, entries)


def counted(ask: Ask, slots: Sequence[PracticeSlot], entries: Sequence[ScheduleEntry]) -> Indices:
    """Entries as an array of reps, axes play, unit, mode, practice."""
    plays = {carried.play: k for k, carried in enumerate(ask.plays)}
    units = {unit.id: u for u, unit in enumerate(ask.units)}
    practices = {slot.practice: t for t, slot in enumerate(slots)}
    reps = np.zeros((len(plays), len(units), len(PRACTICE_MODES), len(practices)), dtype=np.int64)
    for entry in entries:
        k, u, t = plays.get(entry.play), units.get(entry.unit), practices.get(entry.practice)
        if k is not None and u is not None and t is not None and entry.mode in PRACTICE_MODES:
            reps[k, u, PRACTICE_MODES.index(entry.mode), t] += entry.reps
    return reps


def _share(count: Indices, least: int) -> Numbers:
    return np.minimum(1.0, count / least) if least > 0 else np.ones(len(count))
