"""Making one play ready: what it takes, and whether the practices that are left can do it."""

from __future__ import annotations

from dataclasses import replace
from typing import Final, NamedTuple

import numpy as np

from practice.core.install.greedy import (
    LEAST_GAIN,
    PlanUnderWay,
    RepMoves,
    cells_of,
    moves_of,
    rise_of,
    tidied,
)
from practice.core.install.model import HALF, Flags, Indices, Model, Numbers, only_walked

FASTER: Final = 0.1  # strength that the first faster rep of a player counts as; our choice
REACHED: Final = 1e-10  # part of the wanted strength that rounding may take


def minutes_to_ready(model_: Model, reps: Indices, k: int, most: float) -> float | None:
    """Minutes that play ``k`` needs beyond the plan until all its first-depth players are ready.

    Found greedily in the practices there are, as if each had time enough and no one sat too
    long on one play; None where ``most`` minutes are not enough.
    """
    roomy = replace(model_, play_room=np.full_like(model_.play_room, np.inf))
    state = PlanUnderWay(roomy, reps.copy())
    spent = 0.0
    while (short := _short(state, k)) is not None:
        moves = moves_of(state, k)
        index = _best(state, moves, short, np.ones(len(moves.minutes), dtype=bool))
        if index is None or (spent := spent + float(moves.minutes[index])) > most:
            return None
        state.add(moves, index)
    return spent


def lifted(model_: Model, reps: Indices, k: int) -> Indices | None:
    """The plan with the reps that make play ``k`` ready; None where they do not fit in.

    First by what brings most a minute, wherever it is; then, as the last practice may have room
    for the last step only, from the first practice on. Not every way: of 40 drawn small questions
    one was missed that a plan answers.
    """
    if not model_.full[k]:
        return None
    everywhere = [np.arange(model_.shape[3])]
    for turns in (everywhere, [np.array([t]) for t in range(model_.shape[3])]):
        state = PlanUnderWay(model_, reps.copy())
        if any(_is_made_ready(state, k, practices) for practices in turns):
            return tidied(model_, state.reps)
    return None


def can_be_ready(model_: Model, k: int) -> bool:
    """Whether the minutes that no lock has taken, all of them, would make play ``k`` ready."""
    return lifted(model_, model_.fixed, k) is not None


def aimed(model_: Model) -> Model:
    """The question with no reps for plays that cannot be ready by the game.

    Who learns such a play now has the minutes from one that could be ready. A play whose own
    date is after the game is learnt for that date and keeps its reps. Where no play can be ready,
    all are begun as far as the minutes go.
    """
    plays = model_.ask.plays
    later = [p.deadline is not None and p.deadline > model_.ask.game for p in plays]
    can = [can_be_ready(model_, k) for k in range(len(plays))]
    if not any(can):
        return model_
    counts = np.array(can) | np.array(later)
    return replace(
        model_,
        counts=counts,
        weight=np.where(counts[model_.play_of, None], model_.weight, 0.0),
        priority=np.where(counts, model_.priority, 0.0),
    )


class ShortOfReady(NamedTuple):
    """What a play is short of: of its first-depth cells (F) the strength, and who only walked."""

    first: Indices
    lacking: Numbers
    walked: Flags


def _short(state: PlanUnderWay, k: int) -> ShortOfReady | None:
    """What play ``k`` is short of; None where nothing is, and it is ready."""
    model_ = state.model
    first = np.flatnonzero(model_.first & (model_.play_of == k))
    lacking = np.maximum(0.0, model_.wanted[first] - state.strengths()[first, 0])
    lacking[lacking <= REACHED * model_.wanted[first]] = 0.0
    walked = only_walked(model_, state.reps)[first]
    return ShortOfReady(first, lacking, walked) if lacking.any() or walked.any() else None


def _is_made_ready(state: PlanUnderWay, k: int, practices: Indices) -> bool:
    """Put reps in, within the minutes of these practices, until the play is ready."""
    while (short := _short(state, k)) is not None:
        moves = moves_of(state, k)
        may = moves.fitting(*state.open()) & np.isin(moves.practice, practices)
        index = _best(state, moves, short, may)
        if index is None:
            return False
        state.add(moves, index)
    return True


def _best(state: PlanUnderWay, moves: RepMoves, short: ShortOfReady, may: Flags) -> int | None:
    """The block that brings most of what is short, a minute; None where none brings any."""
    rate = np.where(may, _served(state, moves, short) / moves.minutes, 0.0)
    return int(rate.argmax()) if len(rate) and rate.max() > LEAST_GAIN else None


def _served(state: PlanUnderWay, moves: RepMoves, short: tuple[Indices, Numbers, Flags]) -> Numbers:
    """How much of what is lacking each block brings, (N)."""
    first, lacking, walked = short
    need, unrun = np.zeros(len(state.model.cells)), np.zeros(len(state.model.cells))
    need[first], unrun[first] = lacking, FASTER * walked
    cells, rise = cells_of(state, moves), rise_of(state, moves)
    faster: Flags = np.asarray(moves.reps[:, HALF:].any(axis=1))
    brought = (
        np.minimum(rise, need[cells]) + np.where(rise > 0, unrun[cells], 0.0) * faster[:, None]
    )
    return np.asarray(brought.sum(axis=1))
