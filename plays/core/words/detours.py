"""Which waypoints of a way are worth telling. Metres as in ``play``."""

from __future__ import annotations

from collections.abc import Sequence
from math import dist
from typing import Final

from plays.core.play import Point

DETOUR: Final = 1.2  # a waypoint this far off the straight way is worth telling


def detours(points: Sequence[Point]) -> tuple[Point, ...]:
    """The inner points of a polyline that its simplification to DETOUR keeps.

    The method is Douglas and Peucker's of 1973.
    """
    if len(points) < 3:
        return ()
    offs = [_off(points[0], points[-1], point) for point in points[1:-1]]
    worst = max(range(len(offs)), key=offs.__getitem__)
    if offs[worst] < DETOUR:
        return ()
    split = worst + 1
    return (*detours(points[: split + 1]), points[split], *detours(points[split:]))


def _off(a: Point, b: Point, point: Point) -> float:
    """How far a point lies from the straight piece from a to b, in metres."""
    dx, dy = b.x - a.x, b.y - a.y
    square = dx * dx + dy * dy
    if square == 0:
        return dist(a, point)
    along = ((point.x - a.x) * dx + (point.y - a.y) * dy) / square
    along = min(1.0, max(0.0, along))
    return dist((a.x + along * dx, a.y + along * dy), point)
