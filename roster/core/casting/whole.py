"""A cast for the whole package in a moment, within all limits: where the search begins.

Depth by depth and play by play, each five is one linear assignment (scipy's
``linear_sum_assignment``, Crouse 2016) in which a player is worth less the more slots and role
numbers they have already, and those without any come first. No search stands behind it, so a
machine that has no time for one still proposes something with a part for everybody.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES
from roster.core.cast import Assignment, Cast
from roster.core.casting.question import CastingQuestion, Lock
from roster.core.casting.score import unit_members

Numbers = NDArray[np.float64]
Yes = NDArray[np.bool_]

FORBIDDEN: Final = -1e6
_SHARE: Final = 1e-3  # between equals, who has the smaller part of their fair share


@dataclass(slots=True)
class _Dealing:
    """What is dealt so far: (players, plays, 5, depth)."""

    question: CastingQuestion
    filled: Yes

    def roles(self) -> Yes:
        """(players, 5): the role numbers that each has."""
        return np.asarray(self.filled.any(axis=(1, 3)))

    def loads(self) -> NDArray[np.int64]:
        return np.asarray(self.filled.sum(axis=(1, 2, 3)))


def whole_casting(question: CastingQuestion) -> Cast:
    """A cast within the limits of load, roles and fives. A slot that nobody may fill is a hole.

    Locks stand as far as they agree with each other and with the limits.
    """
    shape = (len(question.players), len(question.plays), len(ROLES), question.depth)
    dealing = _Dealing(question, np.zeros(shape, dtype=np.bool_))
    for lock in sorted(question.locks, key=lambda lock: lock.depth is None):
        _place(dealing, lock)
    by_weight = sorted(range(len(question.plays)), key=lambda j: -question.plays[j].priority)
    for depth in range(question.depth):
        for play in by_weight:
            _deal(dealing, play, depth)
    found = np.argwhere(dealing.filled.transpose(1, 2, 3, 0))
    ids = [play.id for play in question.plays]
    return Cast(
        tuple(
            Assignment(ids[j], ROLES[k], int(d) + 1, question.players[p].id) for j, k, d, p in found
        )
    )


def _place(dealing: _Dealing, lock: Lock) -> None:
    question, filled = dealing.question, dealing.filled
    if lock.player not in question.player_index:
        return
    player, play = question.player_index[lock.player], question.play_index[lock.play]
    role = ROLES.index(lock.role)
    depths = range(question.depth) if lock.depth is None else [lock.depth - 1]
    if not question.allowed[player, play, role] or filled[player, play, role].any():
        return
    for depth in depths:
        here = filled[:, play, role, depth].any() or filled[player, play, :, depth].any()
        if depth < question.depth and not here:
            filled[player, play, role, depth] = True
            return


def _deal(dealing: _Dealing, play: int, depth: int) -> None:
    """Fill the free roles of one five; who would complete a group kept apart stays out."""
    filled = dealing.filled[:, play, :, depth]
    worth = _worth(dealing, play, depth)
    free = np.flatnonzero(~filled.any(axis=0))
    while True:
        pairs = _assigned(worth, free)
        five = {player for player, _ in pairs} | set(np.flatnonzero(filled.any(axis=1)).tolist())
        group = _together(dealing.question, five) if depth == 0 else set()
        movable = [pair for pair in pairs if pair[0] in group]
        if not movable:
            break
        worth[min(movable, key=lambda pair: float(worth[pair]))[0]] = FORBIDDEN
    for player, role in pairs:
        filled[player, role] = True


def _assigned(worth: Numbers, free: NDArray[np.int64]) -> list[tuple[int, int]]:
    """(player, role) for the free roles, the best in sum."""
    from scipy.optimize import linear_sum_assignment  # noqa: PLC0415 (a third of a second)

    players, columns = linear_sum_assignment(worth[:, free], maximize=True)
    pairs = [(int(p), int(free[c])) for p, c in zip(players, columns, strict=True)]
    return [pair for pair in pairs if worth[pair] > FORBIDDEN / 2]


def _worth(dealing: _Dealing, play: int, depth: int) -> Numbers:
    """(players, 5): what each adds to the score in each role of a five, given what is dealt."""
    question, wishes = dealing.question, dealing.question.wishes
    loads, roles = dealing.loads(), dealing.roles()
    fair = question.fair_shares()
    in_play = dealing.filled[:, play].any(axis=(1, 2))
    by_load = wishes.uneven * (loads < np.floor(fair)) - wishes.uneven * (loads >= np.ceil(fair))
    by_load = by_load + wishes.left_out * (loads < question.least_slots())
    by_load = by_load - _SHARE * loads / np.maximum(fair, 1.0) - wishes.two_in_play * in_play
    if depth == 0:
        by_load[unit_members(question, play)] += wishes.outside_unit
    worth: Numbers = question.worth[:, play, :, depth] + by_load[:, None] - wishes.role * ~roles
    may = question.allowed[:, play] & ~dealing.filled[:, play].any(axis=2)
    may &= roles | (roles.sum(axis=1, keepdims=True) < question.most_roles()[:, None])
    may &= loads[:, None] < question.most_slots()[:, None]
    may &= ~dealing.filled[:, play, :, depth].any(axis=1, keepdims=True)
    return np.where(may, worth, FORBIDDEN)


def _together(question: CastingQuestion, five: set[int]) -> set[int]:
    """The rows of a group that must not stand together and all do."""
    for group in question.never_together:
        rows = {question.player_index.get(player, -1) for player in group}
        if rows and rows <= five:
            return rows
    return set()
