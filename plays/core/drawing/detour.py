"""Leads a run around the circles of people who stand in its way.

A circle is drawn about a metre wide, wider than a person, so a run that passes a shoulder
would vanish under it. Such a run is drawn a little aside, on the side on which it passes
already or else on the other, unless both are taken by somebody else.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from plays.core.play import Role
from shared.core.drawing.curves import XY, Curve, direction, distance, smooth

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
    at, run, leg = _nearest(curve, center)
    if distance(at, center) >= radius + 2:
        return points
    side = 1 if (at[1] - center[1]) * run[0] - (at[0] - center[0]) * run[1] >= 0 else -1
    aside = _passing(center, (-side * run[1], side * run[0]), circles, radius)
    if aside is None:
        return points
    kept_before = [point for point in points[: leg + 1] if _free(point, center, radius, points)]
    kept_after = [point for point in points[leg + 1 :] if _free(point, center, radius, points)]
    return [*kept_before, aside, *kept_after]


def _passing(center: XY, way: XY, circles: Mapping[Role, XY], radius: float) -> XY | None:
    """Where to pass a circle: on the side of ``way``, else on the other, clear of everybody."""
    others = [place for place in circles.values() if place != center]
    for side in (1, -1):
        reach = side * (radius + CLEAR)
        aside = center[0] + reach * way[0], center[1] + reach * way[1]
        if all(distance(aside, place) >= radius + 1 for place in others):
            return aside
    return None


def _free(point: XY, center: XY, radius: float, points: list[XY]) -> bool:
    """Whether a waypoint stays: the ends do, and those outside of the circle."""
    return point in (points[0], points[-1]) or distance(point, center) > radius + CLEAR


def _nearest(curve: Curve, center: XY) -> tuple[XY, XY, int]:
    """The place of a curve nearest to a point, its direction there, and its piece's number."""
    best, found = float("inf"), (curve.pieces[0], 0.0, 0)
    for index, piece in enumerate(curve.pieces):
        count = max(2, int(distance(piece.start, piece.end) / STEP))
        for k in range(count + 1):
            gap = distance(piece.at(k / count), center)
            if gap < best:
                best, found = gap, (piece, k / count, index)
    piece, t, index = found
    return piece.at(t), direction((0.0, 0.0), piece.velocity(t)), index
