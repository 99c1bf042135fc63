"""Which floor fives can run which plays, and how well at best.

A five can run a play when its five players can be matched to the five roles so that each
knows theirs. The matching is found for all fives and plays at once by a dynamic programme over
the subsets of roles already filled (Held & Karp 1962, J. SIAM 10:196), climbing the tree of
prefixes in ``fives``. The same climb answers both questions: with (or, and) on bits it says
whether, with (max, +) on numbers how well. In the first, 64 plays share one machine word.

Axes: known and worth are (players, plays, 5 roles); results are (fives, plays), the fives in
the order of ``fives.fives``.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from roster.core.coverage.fives import ON_FLOOR, Level, levels

Known = NDArray[np.bool_]
Worth = NDArray[np.float64]
Words = NDArray[np.uint64]

ALL_ROLES: Final = 31
_BITS: Final = tuple(1 << k for k in range(ON_FLOOR))
_WORD: Final = 64
_BLOCK: Final = 20  # plays at a time: what a processor keeps at hand


def coverage(known: Known) -> Known:
    """(fives, plays) bool: can this five run this play?"""
    plays = known.shape[1]
    return _opened(_climbed_bits(known, ON_FLOOR)[ALL_ROLES], plays)


def four_of_five(known: Known) -> Known:
    """(5, fours, plays) bool: can these four fill all roles but the k-th?

    The fours are ``fives.combinations_of(n, 4)``. This is what one more lesson builds on.
    """
    plays = known.shape[1]
    states = _climbed_bits(known, ON_FLOOR - 1)
    return np.stack([_opened(states[ALL_ROLES ^ bit], plays) for bit in _BITS])


def best_fillings(worth: Worth) -> Worth:
    """(fives, plays): the greatest sum of worth over all fillings; -inf where there is none.

    ``worth`` is -inf for a role that the player does not know.
    """
    plays = worth.shape[1]
    blocks = [_filled(worth[:, at : at + _BLOCK]) for at in range(0, max(1, plays), _BLOCK)]
    return np.concatenate(blocks, axis=1)


def _filled(worth: Worth) -> Worth:
    players, plays, _ = worth.shape
    leaves = np.ascontiguousarray(worth.transpose(2, 0, 1))
    states: Mapping[int, Worth] = {0: np.zeros((1, plays))}
    for level in levels(players):
        states = _grown(states, leaves, level, np.maximum, np.add)
    return states[ALL_ROLES]


def _climbed_bits(known: Known, size: int) -> Mapping[int, Words]:
    leaves = _packed(known)
    full = np.full((1, leaves.shape[2]), ~np.uint64(0), dtype=np.uint64)
    states: Mapping[int, Words] = {0: full}
    for level in levels(known.shape[0], size):
        states = _grown(states, leaves, level, np.bitwise_or, np.bitwise_and)
    return states


def _grown(
    states: Mapping[int, Any],
    leaves: NDArray[Any],
    level: Level,
    join: np.ufunc,
    meet: np.ufunc,
) -> dict[int, Any]:
    """One more player on each prefix: who fills ``roles`` fills one of them last."""
    gained = leaves[:, level.last]
    before = {filled: state[level.parent] for filled, state in states.items()}
    spare = np.empty_like(gained[0])
    grown: dict[int, Any] = {}
    for filled in sorted({have | bit for have in before for bit in _BITS if not have & bit}):
        first, *others = [k for k, bit in enumerate(_BITS) if filled & bit]
        best = meet(before[filled ^ _BITS[first]], gained[first])
        for k in others:
            join(best, meet(before[filled ^ _BITS[k]], gained[k], out=spare), out=best)
        grown[filled] = best
    return grown


def _packed(known: Known) -> Words:
    """(5 roles, players, words): one bit for each play."""
    players, plays, roles = known.shape
    words = -(-plays // _WORD)
    bits = np.zeros((roles, players, words * _WORD), dtype=np.bool_)
    bits[:, :, :plays] = known.transpose(2, 0, 1)
    return np.packbits(bits, axis=2, bitorder="little").view("<u8")


def _opened(words: Words, plays: int) -> Known:
    """(rows, plays) bool from (rows, words)."""
    octets = np.ascontiguousarray(words).view(np.uint8)
    return np.unpackbits(octets, axis=1, count=plays, bitorder="little").view(np.bool_)
