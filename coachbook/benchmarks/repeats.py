"""The quickest of some repeats: what a busy machine adds falls away."""

from __future__ import annotations

from collections.abc import Callable
from time import perf_counter


def best(
    work: Callable[[], object], repeats: int, clock: Callable[[], float] = perf_counter
) -> float:
    """Seconds by ``clock`` of the quickest of some repeats."""
    found = []
    for _ in range(repeats):
        begin = clock()
        work()
        found.append(clock() - begin)
    return min(found)
