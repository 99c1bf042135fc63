"""Chooses one out of each of several lists so that no two clash, at the least sum of costs.

Branch and bound with forward checking: what clashes with a choice is gone from the lists that are
left, and the cheapest of what remains bounds every branch from below. Lists that nothing ties
together are searched apart. After ``nodes`` branches the best so far stands, so that the answer
is always the same and never late.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate
from math import inf
from typing import Final

NODES: Final = 1500


def least(
    costs: Sequence[Sequence[float]], clashes: Sequence[int], nodes: int = NODES
) -> tuple[int, ...]:
    """The place in each list of what is chosen.

    Every list ascends, and its last entry clashes with nothing. Entries are numbered through all
    lists; bit ``k`` of ``clashes[j]`` says that entries ``j`` and ``k`` exclude each other.
    """
    search = _Choosing(costs, clashes)
    for tied in search.components():
        search.solve(tied, nodes)
    return tuple(entry - start for entry, start in zip(search.chosen, search.starts, strict=True))


def bits(mask: int) -> Iterator[int]:
    """The numbers of the bits that are set, from the lowest."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


class _Choosing:
    def __init__(self, costs: Sequence[Sequence[float]], clashes: Sequence[int]) -> None:
        self.clashes = clashes
        self.flat = [cost for each in costs for cost in each]
        ends = list(accumulate(map(len, costs)))
        self.starts = [end - len(each) for end, each in zip(ends, costs, strict=True)]
        self.masks = [
            (1 << end) - (1 << start) for start, end in zip(self.starts, ends, strict=True)
        ]
        self.chosen = [end - 1 for end in ends]
        self.best, self.nodes = inf, 0

    def components(self) -> Iterator[list[int]]:
        """The lists that clashes tie together, directly or through others."""
        left = list(range(len(self.masks)))
        while left:
            tied, reached = [], self.masks[left[0]]
            while more := [n for n in left if self.masks[n] & reached]:
                left = [n for n in left if n not in more]
                tied += more
                for number in more:
                    for entry in bits(self.masks[number]):
                        reached |= self.clashes[entry]
            yield sorted(tied)

    def solve(self, tied: Sequence[int], nodes: int) -> None:
        self.best, self.nodes = inf, nodes
        self._branch(tied, -1, 0.0, [])

    def _branch(
        self, left: Sequence[int], alive: int, cost: float, chosen: list[tuple[int, int]]
    ) -> None:
        self.nodes -= 1
        cheapest = [next(bits(alive & self.masks[n])) for n in left]
        bound = cost + sum(self.flat[entry] for entry in cheapest)
        if bound >= self.best - 1e-9:
            return
        if self._agree(cheapest):
            self.best = bound
            for number, entry in (*chosen, *zip(left, cheapest, strict=True)):
                self.chosen[number] = entry
            return
        tightest = min(left, key=lambda n: (alive & self.masks[n]).bit_count())
        others = [n for n in left if n != tightest]
        for entry in bits(alive & self.masks[tightest]):
            if self.nodes <= 0 and self.best < inf:
                return
            self._branch(
                others,
                alive & ~self.clashes[entry],
                cost + self.flat[entry],
                [*chosen, (tightest, entry)],
            )

    def _agree(self, entries: Sequence[int]) -> bool:
        taken = excluded = 0
        for entry in entries:
            taken |= 1 << entry
            excluded |= self.clashes[entry]
        return not taken & excluded
