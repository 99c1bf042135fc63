"""Entries on as few pages as can be: none is broken, and their order is kept as far as that allows.

A page is a bin, an entry an item of its height: bin packing, solved by trying with a bound (the
sum of what is left needs so many pages at least). A booklet has some fifteen entries, and the
search ends with the first answer that no other can beat.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Final

MOST_TRIES: Final = 20_000
"""Places tried before the best found so far is taken: hundredths of a second."""


def packed(heights: Sequence[float], room: float) -> list[list[int]]:
    """Which entries stand on each page, by their place in the order; the first stands on the first.

    Pages come in the order of their first entries. What is higher than ``room`` has its own page.
    """
    search = _Search(heights, room)
    search.place(0, [], [])
    pages = [sorted(page) for page in search.best]
    return sorted(pages, key=lambda page: page[0])


class _Search:
    """Depth first, the highest entries first, with the fullest page that still has room first."""

    def __init__(self, heights: Sequence[float], room: float) -> None:
        self.heights, self.room = heights, room
        self.order = sorted(range(len(heights)), key=lambda n: (-heights[n], n))
        self.least = ceil(sum(min(height, room) for height in heights) / room - 1e-9)
        self.best = _in_order(heights, room)
        self.tries = 0

    def place(self, at: int, pages: list[list[int]], used: list[float]) -> None:
        """Place the entries from the ``at``-th highest on."""
        if len(self.best) <= self.least or self.tries > MOST_TRIES:
            return
        if at == len(self.order):
            self.best = [list(page) for page in pages]
            return
        self.tries += 1
        entry = self.order[at]
        height = min(self.heights[entry], self.room)
        for n in sorted(range(len(pages)), key=lambda n: -used[n]):
            if used[n] + height <= self.room:
                pages[n].append(entry)
                used[n] += height
                self.place(at + 1, pages, used)
                pages[n].pop()
                used[n] -= height
        if len(pages) + 1 < len(self.best):
            self.place(at + 1, [*pages, [entry]], [*used, height])


def _in_order(heights: Sequence[float], room: float) -> list[list[int]]:
    """Each entry on the first page that has room, in their order."""
    pages: list[list[int]] = []
    used: list[float] = []
    for entry, height in enumerate(heights):
        n = next((n for n, full in enumerate(used) if full + height <= room), len(pages))
        if n == len(pages):
            pages.append([])
            used.append(0.0)
        pages[n].append(entry)
        used[n] += height
    return pages
