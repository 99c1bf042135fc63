"""Finds free room for labels on a picture.

The picture is divided into small squares; what is drawn blocks the squares it touches, and a
label may stand where no square under it is blocked. A square counts as blocked when it is
touched at all, so that a label placed here overlaps nothing that was blocked.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import cache
from math import ceil, cos, floor, hypot, pi, sin, sqrt
from typing import Final, NamedTuple

from shared.core.drawing.curves import XY

CELL: Final = 2.0
"""Points: the side of a square."""


class Rect(NamedTuple):
    """A rectangle by its left, top, width and height, in points."""

    left: float
    top: float
    width: float
    height: float

    @property
    def middle(self) -> XY:
        return self.left + self.width / 2, self.top + self.height / 2

    def nearest(self, point: XY) -> XY:
        """The point of the rectangle that lies nearest to ``point``."""
        return (
            min(max(point[0], self.left), self.left + self.width),
            min(max(point[1], self.top), self.top + self.height),
        )

    def off(self, point: XY) -> float:
        """How far ``point`` lies outside; 0 inside."""
        (x, y), (left, top, width, height) = point, self
        dx = left - x if x < left else max(x - (left + width), 0.0)
        dy = top - y if y < top else max(y - (top + height), 0.0)
        return hypot(dx, dy)


class Room:
    """What is still free on a picture of ``width`` by ``height`` points."""

    def __init__(self, width: float, height: float) -> None:
        self.width, self.height = width, height
        self._rows = [0] * ceil(height / CELL)
        self._strips: dict[tuple[int, int], int] = {}  # rows laid over each other, as asked for

    def copy(self) -> Room:
        """The same room, to be filled on its own."""
        made = Room(self.width, self.height)
        made._rows = list(self._rows)
        return made

    def free(self, rect: Rect) -> bool:
        """Whether a rectangle lies inside the picture and touches nothing."""
        left, top, width, height = rect
        if left < 0 or top < 0 or left + width > self.width or top + height > self.height:
            return False
        first, last = int(left / CELL), ceil((left + width) / CELL)
        rows = int(top / CELL), ceil((top + height) / CELL)
        taken = self._strips.get(rows)
        if taken is None:
            taken = self._strip(*rows)
        return not taken >> first & (1 << last - first) - 1

    def free_about(self, center: XY, reach: float, size: XY, count: int) -> Iterator[Rect]:
        """The free ones of the places ``about`` a point, as it gives them.

        Most are taken: they are passed over without being made.
        """
        (x, y), (width, height), strips = center, size, self._strips
        wide, high = reach + width / 2, reach + height / 2
        for dx, dy in _round(count):
            left, top = x + wide * dx - width / 2, y + high * dy - height / 2
            right, bottom = left + width, top + height
            if left < 0 or top < 0 or right > self.width or bottom > self.height:
                continue
            rows = int(top / CELL), ceil(bottom / CELL)
            taken = strips.get(rows)
            if taken is None:
                taken = self._strip(*rows)
            first = int(left / CELL)
            if not taken >> first & (1 << ceil(right / CELL) - first) - 1:
                yield Rect(left, top, width, height)

    def _strip(self, first: int, last: int) -> int:
        """What is taken in any of these rows."""
        taken = 0
        for row in self._rows[first:last]:
            taken |= row
        self._strips[first, last] = taken
        return taken

    def block(self, rect: Rect) -> None:
        """Takes a rectangle away, or as much of it as lies inside."""
        self._strips.clear()
        first = max(floor(rect.left / CELL), 0)
        last = min(max(ceil((rect.left + rect.width) / CELL), 0), ceil(self.width / CELL))
        top = max(floor(rect.top / CELL), 0)
        bottom = min(ceil((rect.top + rect.height) / CELL), len(self._rows))
        if last <= first:
            return
        mask = (1 << last) - (1 << first)
        for row in range(top, bottom):
            self._rows[row] |= mask

    def block_line(self, points: Iterable[XY], half: float) -> None:
        """Takes away a polyline whose points lie no further apart than ``2 * half``."""
        self._strips.clear()
        rows, count, limit = self._rows, len(self._rows), ceil(self.width / CELL)
        for x, y in points:
            first, last = int((x - half) / CELL), int((x + half) / CELL) + 1
            if x < half:
                first, last = max(floor((x - half) / CELL), 0), max(last, 0)
            if first >= limit or last <= first:
                continue
            mask = (1 << last) - (1 << first)
            top, bottom = floor((y - half) / CELL), int((y + half) / CELL) + 1
            for row in range(max(top, 0), min(bottom, count)):
                rows[row] |= mask

    def block_disc(self, center: XY, radius: float) -> None:
        """Takes away a disc, in slices one square high."""
        self._strips.clear()
        x, y = center
        first, last = floor((y - radius) / CELL), ceil((y + radius) / CELL)
        for row in range(max(first, 0), min(last, len(self._rows))):
            low, high = row * CELL - y, (row + 1) * CELL - y
            nearest = 0.0 if low <= 0 <= high else min(abs(low), abs(high))
            if nearest < radius:
                half = sqrt(radius * radius - nearest * nearest)
                left, right = max(floor((x - half) / CELL), 0), max(ceil((x + half) / CELL), 0)
                self._rows[row] |= (1 << right) - (1 << left)


SIDES: Final = (
    (1.0, 0.0),
    (-1.0, 0.0),
    (0.0, 1.0),
    (0.0, -1.0),
    (1.0, 1.0),
    (-1.0, 1.0),
    (1.0, -1.0),
    (-1.0, -1.0),
    (0.5, 1.0),
    (-0.5, 1.0),
    (0.5, -1.0),
    (-0.5, -1.0),
)
"""Right, left, below, above, the corners, and below and above moved half aside."""


def beside(center: XY, radius: float, size: XY, gaps: Iterable[float]) -> Iterator[Rect]:
    """Places for a label around a disc, in the order of ``SIDES``, for each gap in turn."""
    width, height = size
    for gap in gaps:
        for dx, dy in SIDES:
            reach = (radius + gap) * (0.72 if abs(dx) == abs(dy) else 1.0)
            if abs(dx) == 0.5:
                left = center[0] + dx * 0.6 * width - width / 2
            else:
                left = center[0] + dx * reach + (dx - 1) / 2 * width
            top = center[1] + dy * reach + (dy - 1) / 2 * height
            yield Rect(left, top, width, height)


def about(center: XY, reach: float, size: XY, count: int) -> Iterator[Rect]:
    """Places for a label in ``count`` directions about a point, beginning on the right.

    Straight beside, above and below they are ``reach`` away, and somewhat nearer between.
    """
    width, height = size
    aside, down = width / 2, height / 2
    for dx, dy in _round(count):
        x, y = center[0] + (reach + aside) * dx, center[1] + (reach + down) * dy
        yield Rect(x - aside, y - down, width, height)


@cache
def _round(count: int) -> tuple[XY, ...]:
    """Unit vectors in so many directions, beginning on the right."""
    angles = (2 * pi * k / count for k in range(count))
    return tuple((cos(angle), sin(angle)) for angle in angles)


def stepped(a: XY, b: XY, step: float) -> list[XY]:
    """Points on the way from ``a`` to ``b``, both included, at most ``step`` apart."""
    count = max(1, ceil(hypot(b[0] - a[0], b[1] - a[1]) / step))
    return [
        (a[0] + (b[0] - a[0]) * k / count, a[1] + (b[1] - a[1]) * k / count)
        for k in range(count + 1)
    ]
