"""The smallest set of locks that cannot hold together.

Found by implicit hitting sets (Ignatiev, Previti, Liffiton & Marques-Silva 2015, "Smallest MUS
extraction with minimal hitting set dualization", CP 2015, LNCS 9255:173): guess the smallest
set of locks that has one of every group which had to give way so far; when these locks cannot
hold together, no smaller set can be to blame; when they can, find which locks give way at
least, and guess again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from typing import Final

import numpy as np

from roster.core.casting.depths import DEPTHS_IN_WORDS
from roster.core.casting.model import CastingModel, casting_model, lock_columns
from roster.core.casting.question import Ban, CastingQuestion, Lock
from roster.core.names import Names
from shared.core.language import N_
from shared.core.milp import Rows, solved

_SECONDS: Final = 5.0  # for one answer: these programmes have hardly anything to weigh

FILLED_TWICE: Final = N_("{players} are both locked as {depth} in role {role} of {play}.")
TWO_ROLES: Final = N_(
    "{player} is locked in roles {roles} of {play}, and would be in all of them at once."
)
IN_ROLE_TWICE: Final = N_("{player} is locked in role {role} of {play} twice.")
LOCKED_OUT: Final = N_("{player} is locked in role {role} of {play}, but is out.")
LOCKED_BANNED: Final = N_("{player} is locked in role {role} of {play}, but banned from it.")
LOCKED_GONE: Final = N_("A player who is not on the roster is locked in role {role} of {play}.")
NO_DEPTH: Final = N_("{player} is locked as {depth} in {play}, which is not being cast.")
TOGETHER: Final = N_("These locks cannot all hold: {locks}.")
ONE_LOCK: Final = N_("{player} in role {role} of {play}")


def locks_in_conflict(question: CastingQuestion) -> tuple[Lock, ...]:
    """The smallest set of locks that cannot hold together, in the order given; or none."""
    locks = tuple(dict.fromkeys(question.locks))
    model = casting_model(question).free_of_cost()
    gave_way: list[frozenset[Lock]] = []
    while True:
        guess = _smallest_hitting(locks, gave_way)
        yielding = _give_way(model, locks, guess)
        if yielding is None:
            return tuple(lock for lock in locks if lock in guess)
        if not yielding:
            return ()
        gave_way.append(yielding)


def conflict_in_words(question: CastingQuestion, locks: Sequence[Lock], names: Names) -> str:
    """One sentence that names the locks, and the reason where it is a plain one."""
    reason = _lone_reason(question, locks[0], names) if len(locks) == 1 else None
    if len(locks) == 2:
        reason = _pair_reason(locks[0], locks[1], names)
    if reason:
        return reason
    said = names.language.all_of([_said(lock, names) for lock in locks])
    return names.language.say(TOGETHER, locks=said)


def _give_way(
    model: CastingModel, locks: tuple[Lock, ...], held: frozenset[Lock]
) -> frozenset[Lock] | None:
    """Which locks give way at least when ``held`` hold; None when these cannot hold."""
    rows = Rows()
    cost = model.cost.copy()
    for lock in locks:
        columns = lock_columns(model, lock)
        if lock in held:
            rows.add(columns[None, :], np.ones(len(columns)), 1.0, 1.0)
        else:
            cost[columns] = -1.0
            rows.add(columns[None, :], np.ones(len(columns)), -np.inf, 1.0)
    result = solved(replace(model.with_rows(rows), cost=cost), _SECONDS, gap=0.0)
    if result.x is None:
        return None
    values = result.x
    return frozenset(lock for lock in locks if values[lock_columns(model, lock)].sum() < 0.5)


def _smallest_hitting(
    locks: tuple[Lock, ...], groups: Sequence[frozenset[Lock]]
) -> frozenset[Lock]:
    """The smallest set with a member in every group; the earliest locks where several are."""
    candidates = [lock for lock in locks if any(lock in group for group in groups)]
    for size in range(len(candidates) + 1):
        for chosen in combinations(candidates, size):
            if all(group.intersection(chosen) for group in groups):
                return frozenset(chosen)
    return frozenset(locks)


def _lone_reason(question: CastingQuestion, lock: Lock, names: Names) -> str | None:
    if lock.player not in question.player_index:
        return _tell(LOCKED_GONE, lock, names)
    if not question.players[question.player_index[lock.player]].can_play:
        return _tell(LOCKED_OUT, lock, names)
    if lock.depth is not None and lock.depth > question.depth:
        return _tell(NO_DEPTH, lock, names)
    if any(_bans(ban, lock) for ban in question.bans):
        return _tell(LOCKED_BANNED, lock, names)
    return None


def _pair_reason(one: Lock, other: Lock, names: Names) -> str | None:
    if one.play != other.play:
        return None
    if one.player == other.player:
        if one.role == other.role:
            return _tell(IN_ROLE_TWICE, one, names)
        return _tell(TWO_ROLES, one, names, roles=names.language.all_of([one.role, other.role]))
    if one.role == other.role and one.depth is not None and one.depth == other.depth:
        both = names.all_players([one.player, other.player])
        return _tell(FILLED_TWICE, one, names, players=both)
    return None


def _bans(ban: Ban, lock: Lock) -> bool:
    return (
        ban.player == lock.player
        and ban.play in {None, lock.play}
        and ban.role in {None, lock.role}
    )


def _said(lock: Lock, names: Names) -> str:
    return _tell(ONE_LOCK, lock, names)


def _tell(template: str, lock: Lock, names: Names, **slots: str) -> str:
    return names.language.say(
        template,
        player=names.player(lock.player),
        role=lock.role,
        play=names.play(lock.play),
        depth=names.language.say(DEPTHS_IN_WORDS[lock.depth or 1]),
        **slots,
    )
