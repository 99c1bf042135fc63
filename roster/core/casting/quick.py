"""A cast at once: the best players for each play by itself, nothing shared over the package.

Each depth of each play is one linear assignment (scipy's ``linear_sum_assignment``, which
follows Crouse 2016, IEEE Trans. Aerosp. Electron. Syst. 52:1679). Availability, bans and locks
hold; limits of load and roles do not: that is what the whole-package casting is for.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES
from roster.core.cast import Assignment, Cast
from roster.core.casting.question import CastingAnswer, CastingQuestion, Ending, Lock
from roster.core.casting.score import score

_FORBIDDEN = -1e6
_IN_PLAY_ALREADY = -100.0  # rather anybody else than somebody with a role in the play


def quick_casting(question: CastingQuestion) -> CastingAnswer:
    """Every play cast by itself. A slot that nobody can fill is left as a hole."""
    assignments = [a for play in range(len(question.plays)) for a in _cast_play(question, play)]
    cast = Cast(tuple(sorted(assignments, key=lambda a: _order(question, a))))
    return CastingAnswer(cast, Ending.QUICK, score(question, cast).total)


def _order(question: CastingQuestion, a: Assignment) -> tuple[int, str, int]:
    return question.play_index[a.play], a.role, a.depth


def _cast_play(question: CastingQuestion, play: int) -> list[Assignment]:
    taken = np.zeros((len(question.players), len(ROLES), question.depth), dtype=np.bool_)
    _place_locks(question, play, taken)
    for depth in range(question.depth):
        _cast_depth(question, play, depth, taken)
    play_id = question.plays[play].id
    return [
        Assignment(play_id, ROLES[role], int(depth) + 1, question.players[player].id)
        for player, role, depth in np.argwhere(taken)
    ]


def _place_locks(question: CastingQuestion, play: int, taken: NDArray[np.bool_]) -> None:
    """Locks with a depth first; each that contradicts an earlier one is passed over."""
    mine = [lock for lock in question.locks if lock.play == question.plays[play].id]
    for lock in sorted(mine, key=lambda lock: lock.depth is None):
        if lock.player not in question.player_index:
            continue
        player, role = question.player_index[lock.player], ROLES.index(lock.role)
        depth = _depth_for(lock, player, role, taken)
        if depth is not None and question.allowed[player, play, role]:
            taken[player, role, depth] = True


def _depth_for(lock: Lock, player: int, role: int, taken: NDArray[np.bool_]) -> int | None:
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


def _cast_depth(question: CastingQuestion, play: int, depth: int, taken: NDArray[np.bool_]) -> None:
    kept_out: set[int] = set()
    while True:
        found = _best(question, play, depth, taken, kept_out)
        five = {player for player, _ in found} | set(
            np.flatnonzero(taken[:, :, depth].any(axis=1)).tolist()
        )
        clash = _clash(question, five) if depth == 0 else set()
        movable = [(player, role) for player, role in found if player in clash]
        if not movable:
            break
        kept_out.add(min(movable, key=lambda at: question.worth[at[0], play, at[1], 0])[0])
    for player, role in found:
        taken[player, role, depth] = True


def _best(
    question: CastingQuestion,
    play: int,
    depth: int,
    taken: NDArray[np.bool_],
    kept_out: set[int],
) -> list[tuple[int, int]]:
    """(player, role) for the free roles of one depth, by linear assignment."""
    from scipy.optimize import linear_sum_assignment  # noqa: PLC0415 (a third of a second)

    worth = question.worth[:, play, :, depth].copy()
    members = [question.player_index.get(p) for p in question.plays[play].unit]
    if depth == 0 and members:
        inside = [row for row in members if row is not None]
        worth[inside] += question.wishes.outside_unit
    worth[taken.any(axis=(1, 2))] += _IN_PLAY_ALREADY
    may = question.allowed[:, play] & ~taken.any(axis=2)
    may[taken[:, :, depth].any(axis=1)] = False
    may[sorted(kept_out)] = False
    worth[~may] = _FORBIDDEN
    free = np.flatnonzero(~taken[:, :, depth].any(axis=0))
    players, columns = linear_sum_assignment(worth[:, free], maximize=True)
    pairs = [(int(p), int(free[c])) for p, c in zip(players, columns, strict=True)]
    return [(player, role) for player, role in pairs if may[player, role]]


def _clash(question: CastingQuestion, five: set[int]) -> set[int]:
    """The members of a group that must not stand together and all do."""
    for group in question.never_together:
        rows = {question.player_index.get(player, -1) for player in group}
        if rows and rows <= five:
            return rows
    return set()
