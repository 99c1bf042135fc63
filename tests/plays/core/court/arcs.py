"""Beyond the three-point line or not, for tests."""

from __future__ import annotations

from math import hypot

from plays.core.court.courts import Court
from plays.core.play import Point


def beyond_arc(court: Court, point: Point) -> bool:
    """Whether a place lies outside the three-point line; on the line is not outside."""
    if point.y <= court.arc_join_y:
        return abs(point.x) > court.corner_x
    return hypot(point.x - court.basket.x, point.y - court.basket.y) > court.arc_radius
