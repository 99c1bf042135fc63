"""Every five that a team can put on the floor, as index arrays.

Players are 0 to n-1 here. Combinations are in lexicographic order and grow as a tree of
prefixes: each combination of d players hangs on its first d-1, so that work done for a prefix
is shared by all fives that begin with it (15 players: 15, 105, 455, 1365, 3003 prefixes).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from typing import Final

import numpy as np
from numpy.typing import NDArray

ON_FLOOR: Final = 5
MOST_PLAYERS: Final = 20  # 15,504 fives; no rule book lets a team dress more

Index = NDArray[np.intp]


class TooManyPlayersError(ValueError):
    """More players than the fives can be listed for."""


@dataclass(frozen=True, slots=True, eq=False)
class Level:
    """The combinations of one size: (rows,) row of the prefix, and the last player."""

    parent: Index
    last: Index


@lru_cache(maxsize=64)
def combinations_of(n: int, size: int) -> Index:
    """(rows, size): the combinations of ``size`` out of n players, lexicographic."""
    if n > MOST_PLAYERS:
        raise TooManyPlayersError(f"{n} players; at most {MOST_PLAYERS} can be reckoned with")
    rows = list(combinations(range(n), size))
    return _frozen(np.array(rows, dtype=np.intp).reshape(len(rows), size))


def fives(n: int) -> Index:
    """(C(n, 5), 5): all floor fives."""
    return combinations_of(n, ON_FLOOR)


@lru_cache(maxsize=64)
def levels(n: int, size: int = ON_FLOOR) -> tuple[Level, ...]:
    """The tree of prefixes, from single players to combinations of ``size``."""
    made = []
    for depth in range(1, size + 1):
        rows = combinations_of(n, depth)
        parent = _rank(combinations_of(n, depth - 1), rows[:, :-1], n)
        made.append(Level(parent, _frozen(rows[:, -1].copy())))
    return tuple(made)


@lru_cache(maxsize=32)
def rest_of_five(n: int) -> Index:
    """(fives, 5): the row, among the combinations of four, of a five without its i-th player."""
    all_fives, fours = fives(n), combinations_of(n, ON_FLOOR - 1)
    columns = [_rank(fours, np.delete(all_fives, i, axis=1), n) for i in range(ON_FLOOR)]
    return _frozen(np.stack(columns, axis=1))


@lru_cache(maxsize=32)
def membership(n: int) -> NDArray[np.bool_]:
    """(fives, n): who is in which five."""
    all_fives = fives(n)
    inside = np.zeros((len(all_fives), n), dtype=np.bool_)
    inside[np.arange(len(all_fives))[:, None], all_fives] = True
    inside.setflags(write=False)
    return inside


def _rank(among: Index, wanted: Index, n: int) -> Index:
    """The row of each wanted combination in a lexicographic list of combinations."""
    base = n ** np.arange(among.shape[1])[::-1]
    return _frozen(np.searchsorted(among @ base, wanted @ base).astype(np.intp))


def _frozen(array: Index) -> Index:
    array.setflags(write=False)
    return array
