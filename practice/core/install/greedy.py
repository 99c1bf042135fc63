"""Filling minutes greedily, by the block of reps that gains most per minute.

A block is 1, 2 or 4 reps of a play by a unit in a mode in a practice, together with the
walk-throughs and half-speed reps that must come before it, and the set-up of the play there.
Blocks, because the first reps of a play gain little each (the logistic has a convex foot):
one at a time the greedy would never begin some plays. Only the blocks of the play just
served are valued again. A block that makes a play ready has the bonus for it. The greedy has no
guarantee; ``improve`` measures its distance from the best.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from practice.core.install.model import (
    EVEN,
    HALF,
    LIVE,
    WALK,
    Flags,
    Indices,
    Model,
    Numbers,
    chances,
    efforts,
    only_walked,
    ready_bonuses,
)

BLOCKS: Final = (1, 2, 4)
LEAST_GAIN: Final = 1e-7


def tidied(model_: Model, reps: Indices) -> Indices:
    """The plan with walk-throughs that nothing needs run at half speed instead.

    They come about when a block is put before others. Only where half speed takes no longer
    and is worth no less; locked reps stay.
    """
    if model_.minutes[HALF] > model_.minutes[WALK] or model_.effort[HALF] < model_.effort[WALK]:
        return reps
    reps = reps.copy()
    walks = reps[:, :, WALK]  # (K, U, T)
    before = np.cumsum(walks, axis=-1) - walks
    needed = np.maximum(0, model_.ask.rules.walk_first - model_.walked[..., None] - before)
    kept = np.maximum(needed, model_.fixed[:, :, WALK])
    extra = np.where(model_.can[:, :, HALF], np.maximum(0, walks - kept), 0)
    reps[:, :, WALK] -= extra
    reps[:, :, HALF] += extra
    return reps


def filled(model_: Model, reps: Indices) -> Indices:
    """The plan with the minutes that are left filled greedily; ``reps`` is not changed."""
    state = PlanUnderWay(model_, reps.copy())
    moves = [_valued(state, k) for k in range(model_.shape[0])]
    while (best := _best(state, moves)) is not None:
        k, index = best
        state.add(moves[k], index)
        moves[k] = _valued(state, k)
    return tidied(model_, state.reps)


class PlanUnderWay:
    """A plan under way, with what has to be known of it at every step."""

    def __init__(self, model_: Model, reps: Indices) -> None:
        self.model = model_
        self.reps = reps
        self.effort = _with_stand_in(efforts(model_, reps))
        self.gain = self.effort**model_.assumptions.massing
        self.touched: Flags = np.asarray(reps.any(axis=(1, 2)))
        self.used = np.einsum("kumt,m->kt", reps, model_.minutes)
        self.used += model_.setup[:, None] * self.touched

    def strengths(self) -> Numbers:
        fresh = np.einsum("cjt,ct->cj", self.model.fade, self.gain[:-1])
        return np.asarray(self.model.start + fresh)

    def add(self, moves: RepMoves, index: int) -> None:
        k, u, t = moves.play, moves.unit[index], moves.practice[index]
        self.reps[k, u, :, t] += moves.reps[index]
        self.used[k, t] += moves.minutes[index]
        self.touched[k, t] = True
        fives = self.model.fives[k, u, t]
        for cells, amount in zip(fives, _amounts(self.model, moves.reps[index]), strict=True):
            self.effort[cells[cells >= 0], t] += amount
        own = fives[fives >= 0]
        self.gain[own, t] = self.effort[own, t] ** self.model.assumptions.massing

    def open(self) -> tuple[Numbers, Flags]:
        """Minutes left in each practice, (T), and where each play may be run, (K, T)."""
        left = self.model.room - self.used.sum(axis=0)
        begun = _first_only(self.touched) & self.model.is_new[:, None]
        free = begun.sum(axis=0) < self.model.new_room
        running = np.cumsum(self.touched, axis=1) > 0
        return left, ~self.model.is_new[:, None] | running | free[None, :]


@dataclass(frozen=True, slots=True, eq=False)
class RepMoves:
    """All blocks for one play, one entry each; ``reps`` (N, M) includes what comes before."""

    play: int
    unit: Indices
    practice: Indices
    reps: Indices
    minutes: Numbers
    gain: Numbers

    def fitting(self, left: Numbers, may: Flags) -> Flags:
        """Which still fit (N), by the minutes left (T) and where each play may be run (K, T)."""
        fits = (self.minutes <= left[self.practice] + 1e-9) & may[self.play, self.practice]
        return np.asarray(fits)

    def only(self, kept: Flags) -> RepMoves:
        unit, practice, reps = self.unit[kept], self.practice[kept], self.reps[kept]
        return RepMoves(self.play, unit, practice, reps, self.minutes[kept], self.gain[kept])


def moves_of(state: PlanUnderWay, k: int) -> RepMoves:
    """The blocks that may be run of play ``k`` at all, not valued yet."""
    model_ = state.model
    _, units, modes, practices = model_.shape
    indices = np.indices((units, modes, practices, len(BLOCKS)))
    u, m, t, b = (axis.ravel() for axis in indices)
    reps = _lacking(state, k)[u, m, :, t]
    reps[np.arange(len(u)), m] = np.array(BLOCKS)[b]
    minutes = reps @ model_.minutes + np.where(state.touched[k, t], 0.0, model_.setup[k])
    possible = (model_.can[k, u, :, t] | (reps == 0)).all(axis=1) & model_.counts[k]
    possible &= state.used[k, t] + minutes <= model_.play_room[k, t] + 1e-9
    there = state.reps[k].sum(axis=1)[u, t] + reps.sum(axis=1)
    possible &= there >= model_.ask.rules.least_reps
    return RepMoves(k, u, t, reps, minutes, np.zeros(len(u))).only(possible)


def _valued(state: PlanUnderWay, k: int) -> RepMoves:
    moves = moves_of(state, k)
    gain = _gain(state, moves) + _bonus(state, moves) + _ready_bonus(state, moves)
    return replace(moves, gain=gain)


def _lacking(state: PlanUnderWay, k: int) -> Indices:
    """Reps by mode that must come before a block of mode m: axes unit, m, mode, practice."""
    model_, rules = state.model, state.model.ask.rules
    sums = np.cumsum(state.reps[k], axis=-1)  # (U, M, T)
    locked = np.cumsum(model_.fixed[k], axis=-1)
    walked = model_.walked[k, :, None] + sums[:, WALK] + locked[:, HALF] + locked[:, LIVE]
    halved = model_.halved[k, :, None] + sums[:, HALF] + locked[:, LIVE]
    lacking = np.zeros((len(sums), 3, *sums.shape[1:]), dtype=np.int64)
    lacking[:, HALF, WALK] = np.maximum(0, rules.walk_first - walked)
    lacking[:, LIVE, WALK] = lacking[:, HALF, WALK]
    lacking[:, LIVE, HALF] = np.maximum(0, rules.half_first - halved)
    return lacking


def _amounts(model_: Model, reps: Indices) -> tuple[Numbers, Numbers]:
    """Effort of reps by mode (..., M): of the quiet five, and of the live five."""
    quiet = reps[..., :LIVE] @ model_.effort[:LIVE]
    return quiet, np.asarray(reps[..., LIVE] * model_.effort[LIVE])


def _gain(state: PlanUnderWay, moves: RepMoves) -> Numbers:
    """Weighted readiness gained by each block, (N)."""
    model_, cells = state.model, cells_of(state, moves)
    before = state.strengths()
    fresh = _more(state, moves)
    after = before[cells] + model_.fade[cells, :, moves.practice[:, None]] * fresh[:, :, None]
    rise = chances(model_, after, cells) - chances(model_, before)[cells]
    return np.asarray((model_.weight[cells] * rise * (fresh > 0)[:, :, None]).sum(axis=(1, 2)))


def rise_of(state: PlanUnderWay, moves: RepMoves) -> Numbers:
    """Strength that each block adds on game day, by block and cell of ``cells_of``."""
    cells = cells_of(state, moves)
    fade = state.model.fade[cells, 0, moves.practice[:, None]]
    return np.asarray(fade * _more(state, moves))


def cells_of(state: PlanUnderWay, moves: RepMoves) -> Indices:
    """The cells of each block's quiet five and of its live five, (N, 10); -1 a stand-in."""
    fives = state.model.fives[moves.play, moves.unit, moves.practice]
    return np.asarray(fives.reshape(-1, 2 * fives.shape[-1]))


def _more(state: PlanUnderWay, moves: RepMoves) -> Numbers:
    """What each block adds to the gain of its cells' practice, (N, 10).

    A cell that stands in both fives is counted in the first with all of it.
    """
    model_, t = state.model, moves.practice[:, None]
    cells = cells_of(state, moves)
    quiet, live = (amount[:, None] for amount in _amounts(model_, moves.reps))
    same = cells[:, :5] == cells[:, 5:]
    amount = np.concatenate([quiet + live * same, np.where(same, 0.0, live)], axis=1)
    amount[cells < 0] = 0.0
    grown = (state.effort[cells, t] + amount) ** model_.assumptions.massing
    return np.asarray(np.where(amount > 0, grown - state.gain[cells, t], 0.0))


def _bonus(state: PlanUnderWay, moves: RepMoves) -> Numbers:
    model_, rules, k = state.model, state.model.ask.rules, moves.play
    leading = (moves.reps * model_.leading[k, moves.unit, :, moves.practice]).any(axis=1)
    done = (state.reps[k] * model_.leading[k])[..., model_.late].any()
    touch = model_.late[moves.practice] & leading & ~done
    lives = model_.lives[k] + state.reps[k, :, LIVE].sum()
    seconds = model_.seconds[k] + (state.reps[k] * model_.second[k]).sum()
    by_second = (moves.reps * model_.second[k, moves.unit, :, moves.practice]).sum(axis=1)
    total = (
        touch * rules.touch_bonus
        + _filling(lives, moves.reps[:, LIVE], rules.least_live) * rules.live_bonus
        + _filling(seconds, by_second, rules.least_second) * rules.second_bonus
    )
    return np.asarray(total * model_.priority[k], dtype=np.float64)


def _ready_bonus(state: PlanUnderWay, moves: RepMoves) -> Numbers:
    """The bonus of the blocks with which the play becomes ready, (N)."""
    model_, k = state.model, moves.play
    none = np.zeros(len(moves.unit))
    if not (model_.full[k] and model_.counts[k] and len(none)):
        return none
    first = np.flatnonzero(model_.first & (model_.play_of == k))
    lacking = model_.wanted[first] - state.strengths()[first, 0]
    cells, rise = cells_of(state, moves), rise_of(state, moves)
    own = [np.where(cells == cell, rise, 0.0).sum(axis=1) for cell in first.tolist()]
    up = (np.stack(own, axis=1) >= lacking - EVEN).all(axis=1)
    if not up.any():
        return none
    if only_walked(model_, state.reps)[first].any():
        up &= moves.reps[:, HALF:].any(axis=1)
    elif (lacking <= EVEN).all():
        return none  # it is ready already
    return np.asarray(up * ready_bonuses(model_)[k])


def _filling(have: int, more: Indices, least: int) -> Numbers:
    """What share of a quota more reps fill."""
    if least <= 0:
        return np.zeros(len(more))
    return np.asarray(np.minimum(1.0, (have + more) / least) - min(1.0, have / least))


def _best(state: PlanUnderWay, moves: list[RepMoves]) -> tuple[int, int] | None:
    room = state.open()
    best, best_rate = None, 0.0
    for k, own in enumerate(moves):
        fits = own.fitting(*room) & (own.gain > LEAST_GAIN)
        rate = np.where(fits, own.gain / own.minutes, 0.0)
        if len(rate) and rate.max() > best_rate * (1 + 1e-9):
            best, best_rate = (k, int(rate.argmax())), float(rate.max())
    return best


def is_sound(model_: Model, reps: Indices) -> bool:
    """Whether steps come in order, units run enough reps, and not too many plays begin."""
    free = reps - model_.fixed
    together = reps.sum(axis=2)
    if ((together < model_.ask.rules.least_reps) & (free.sum(axis=2) > 0)).any():
        return False
    for k in range(model_.shape[0]):
        if ((free[k] > 0) & steps_lacking(model_, reps, k)).any():
            return False
    return bool((begins_in(model_, reps) <= model_.new_room).all())


def begins_in(model_: Model, reps: Indices) -> Indices:
    """How many new plays begin in each practice, (T)."""
    touched: Flags = np.asarray(reps.any(axis=(1, 2)))
    begins = _first_only(touched) & model_.is_new[:, None]
    return np.asarray(begins.sum(axis=0), dtype=np.int64)


def steps_lacking(model_: Model, reps: Indices, k: int) -> Flags:
    """Where a mode is run before its steps are behind the unit, (U, M, T)."""
    rules, sums = model_.ask.rules, np.cumsum(reps[k], axis=-1)
    locked = np.cumsum(model_.fixed[k], axis=-1)
    walked = model_.walked[k, :, None] + sums[:, WALK] + locked[:, HALF] + locked[:, LIVE]
    halved = model_.halved[k, :, None] + sums[:, HALF] + locked[:, LIVE]
    lacking = np.zeros((len(sums), 3, sums.shape[-1]), dtype=bool)
    lacking[:, HALF] = walked < rules.walk_first
    lacking[:, LIVE] = lacking[:, HALF] | (halved < rules.half_first)
    return lacking


def _first_only(touched: Flags) -> Flags:
    return np.asarray(touched & (np.cumsum(touched, axis=1) == 1))


def _with_stand_in(by_cell: Numbers) -> Numbers:
    """One more row at the end, which the index -1 of a stand-in meets."""
    return np.append(by_cell, np.zeros((1, by_cell.shape[1])), axis=0)
