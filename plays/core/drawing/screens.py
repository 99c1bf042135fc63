"""Which way a screen faces in a diagram: the way its cutter goes.

The document names a screener's place and cutter, not a direction; this works it out from the
runs. Points and unit vectors of the picture, y down.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians
from typing import Final

from plays.core.play import Moment
from plays.core.sequence.course import BALL_MOVERS, Leg
from shared.core.drawing.curves import XY, Curve, direction, line, nearest, smooth

NEAR: Final = 2.5
"""Metres: a cutter who stays further away than this does not use the screen."""

LEAST_LEAN: Final = cos(radians(40))
"""A screener's line is bent to the cutter's by no more than 40 degrees."""

STUB: Final = 3.5
"""Points: how far the bar of a screen set on the spot stands off the circle."""


def cutter_way(legs: Sequence[Leg], screen: Leg) -> XY | None:
    """The unit direction in which the cutter runs past a screen; None without such a run.

    ``legs`` are all of the play, in order. A run that waits for this screen comes before any
    other, then the one that passes nearest.
    """
    best: tuple[tuple[bool, float], XY] | None = None
    for leg in legs[legs.index(screen) :]:
        if leg.action.role != screen.action.cutter or len(leg.points) < 2:
            continue
        if leg.action.kind in BALL_MOVERS:
            continue
        points = smooth(leg.points).flatten(0.3)
        index, gap = nearest(points, screen.end)
        key = not _waits_for(leg, screen), gap
        if gap < NEAR and (best is None or key < best[0]):
            best = key, direction(points[index], points[index + 1])
    return best[1] if best else None


def leaning(points: Sequence[XY], way: XY | None) -> XY | None:
    """The cutter's line, in the sense in which the screener can arrive along it; else None."""
    if way is None or len(points) < 2:
        return None
    run = direction(points[-2], points[-1])
    along = run[0] * way[0] + run[1] * way[1]
    if abs(along) < LEAST_LEAN:
        return None
    sign = 1 if along > 0 else -1
    return sign * way[0], sign * way[1]


def stub(center: XY, radius: float, way: XY) -> Curve:
    """For a screen set where one stands: a short line out of the circle, to meet the cutter."""
    dx, dy = -way[0], -way[1]
    reach = radius + STUB
    start = center[0] + radius * dx, center[1] + radius * dy
    return line(start, (center[0] + reach * dx, center[1] + reach * dy))


def _waits_for(leg: Leg, screen: Leg) -> bool:
    return any(cue.on is Moment.SET and cue.action == screen.action.id for cue in leg.action.cues)
