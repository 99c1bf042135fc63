"""Leads a run around the circles of people who stand in its way.

A circle is drawn about a metre wide, wider than a person, so a run that passes a shoulder
would vanish under it. Such a run is drawn a little aside, on the side on which it passes
already, unless that brings it into somebody else's circle.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from plays.core.play import Role
from shared.core.geometry import XY, Curve, direction, distance, smooth

CLEAR: Final = 4.0
"""Points between a circle and the run that is led around it."""

STEP: Final = 4.0


def detour(points: Sequence[XY], circles: Mapping[Role, XY], role: Role, radius: float) -> list[XY]:
    """The waypoints, with one more for each circle that the run has to go around."""
    led = list(points)
    for other, center in circles.items():
        if other != role:
            led = _around(led, center, circles, radius)
    return led


def _around(points: list[XY], center: XY, circles: Mapping[Role, XY], radius: float) -> list[XY]:
    if len(points) < 2 or distance(points[-1], center) < radius + 2:
        return points  # it runs to this person: its end is cut at the circle's edge
    curve = smooth(points)
    at, leg = _nearest(curve, center)
    gap = distance(at, center)
    if gap >= radius + 2:
        return points
    way = direction(center, at) if gap > 0.5 else _aside(points, leg)
    reach = radius + CLEAR
    aside = center[0] + reach * way[0], center[1] + reach * way[1]
    others = [place for place in circles.values() if place != center]
    if any(distance(aside, place) < radius + 1 for place in others):
        return points
    kept_before = [point for point in points[: leg + 1] if _free(point, center, radius, points)]
    kept_after = [point for point in points[leg + 1 :] if _free(point, center, radius, points)]
    return [*kept_before, aside, *kept_after]


def _free(point: XY, center: XY, radius: float, points: list[XY]) -> bool:
    """Whether a waypoint stays: the ends do, and those outside of the circle."""
    return point in (points[0], points[-1]) or distance(point, center) > radius + CLEAR


def _nearest(curve: Curve, center: XY) -> tuple[XY, int]:
    """The place of a curve nearest to a point, and the number of its piece."""
    best, found = float("inf"), (curve.start, 0)
    for index, piece in enumerate(curve.pieces):
        count = max(2, int(distance(piece.start, piece.end) / STEP))
        for k in range(count + 1):
            at = piece.at(k / count)
            gap = distance(at, center)
            if gap < best:
                best, found = gap, (at, index)
    return found


def _aside(points: list[XY], leg: int) -> XY:
    """Square to a run that goes right through the middle of a circle."""
    way = direction(points[leg], points[leg + 1])
    return -way[1], way[0]
