"""One five of one play: its locks placed, and its free roles filled by linear assignment.

scipy's ``linear_sum_assignment`` follows Crouse 2016, IEEE Trans. Aerosp. Electron. Syst.
52:1679. ``taken`` is (players, 5, depth) of the one play, and is filled in place.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES
from roster.core.casting.question import CastingQuestion, Lock

Numbers = NDArray[np.float64]
Taken = NDArray[np.bool_]

FORBIDDEN: Final = -1e6  # the worth of a place that somebody may not have


def place_locks(question: CastingQuestion, play: int, taken: Taken) -> None:
    """Locks with a depth first; each that contradicts an earlier one is passed over."""
    mine = [lock for lock in question.locks if lock.play == question.plays[play].id]
    for lock in sorted(mine, key=lambda lock: lock.depth is None):
        if lock.player not in question.player_index:
            continue
        player, role = question.player_index[lock.player], ROLES.index(lock.role)
        depth = _depth_for(lock, player, role, taken)
        if depth is not None and question.allowed[player, play, role]:
            taken[player, role, depth] = True


def _depth_for(lock: Lock, player: int, role: int, taken: Taken) -> int | None:
    depths = range(taken.shape[2]) if lock.depth is None else [lock.depth - 1]
    if taken[player, role].any():
        return None
    free = (
        depth
        for depth in depths
        if depth < taken.shape[2]
        and not taken[:, role, depth].any()
        and not taken[player, :, depth].any()
    )
    return next(free, None)


def fill(
    question: CastingQuestion, depth: int, taken: Taken, worth: Numbers, stays: Numbers
) -> None:
    """Fill the free roles of a depth by ``worth``, (players, 5), which is used up.

    Of a group that must not stand in one first five, who is worth least by ``stays``, of the
    same shape, gives way.
    """
    while True:
        found = _assigned(worth, np.flatnonzero(~taken[:, :, depth].any(axis=0)))
        five = {player for player, _ in found} | set(
            np.flatnonzero(taken[:, :, depth].any(axis=1)).tolist()
        )
        clash = _clash(question, five) if depth == 0 else set()
        movable = [at for at in found if at[0] in clash]
        if not movable:
            break
        worth[min(movable, key=lambda at: float(stays[at]))[0]] = FORBIDDEN
    for player, role in found:
        taken[player, role, depth] = True


def may_stand(question: CastingQuestion, play: int, depth: int, taken: Taken) -> Taken:
    """(players, 5): who may have which role of a depth, with what is taken already."""
    may = question.allowed[:, play] & ~taken.any(axis=2)
    may[taken[:, :, depth].any(axis=1)] = False
    return np.asarray(may)


def _assigned(worth: Numbers, free: NDArray[np.int64]) -> list[tuple[int, int]]:
    """(player, role) for the free roles, the best in sum."""
    from scipy.optimize import linear_sum_assignment  # noqa: PLC0415 (a third of a second)

    players, columns = linear_sum_assignment(worth[:, free], maximize=True)
    pairs = [(int(p), int(free[c])) for p, c in zip(players, columns, strict=True)]
    return [at for at in pairs if worth[at] > FORBIDDEN / 2]


def _clash(question: CastingQuestion, five: set[int]) -> set[int]:
    """The members of a group that must not stand together and all do."""
    for group in question.never_together:
        rows = {question.player_index.get(player, -1) for player in group}
        if rows and rows <= five:
            return rows
    return set()
