"""By which named place a way is told: one that it comes close by, or one toward which it leads.

Metres as in ``play``.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import cos, dist, radians
from typing import Final

from plays.core.court.courts import Court
from plays.core.court.spots import named_spots, nearest
from plays.core.motion.path import path_through
from plays.core.play import ActionKind, Point
from plays.core.sequence.course import Leg

PAST: Final = 0.5  # who runs past a place comes as near as this
ASIDE: Final = cos(radians(25.0))  # a way leads toward a place not more than this beside it; ours
RUNS: Final = (ActionKind.CUT, ActionKind.DRIBBLE)


def goes_by(floor: Court, leg: Leg, at: Point) -> bool:
    """Whether the way as it is run comes near to the named place by which ``at`` is called."""
    spot = named_spots(floor).get(nearest(floor, at).key)
    return spot is not None and path_through(leg.points).nearest(complex(*spot))[1] <= PAST


def heads(floor: Court, leg: Leg, ways: Iterable[Leg]) -> bool:
    """Whether a run leads toward the named place nearest to its end, as none of the role's other
    runs among ``ways`` does: then that place alone says which run is meant."""
    key = nearest(floor, leg.end).key
    spot = named_spots(floor).get(key)
    if spot is None or leg.action.kind not in RUNS or not _toward(leg.start, leg.end, spot):
        return False
    runs = (w for w in ways if w.action.role == leg.action.role and w.action.kind in RUNS)
    others = (way for way in runs if way.action.id != leg.action.id)
    return all(nearest(floor, way.end).key != key for way in others)


def _toward(start: Point, end: Point, spot: Point) -> bool:
    """Whether who runs to the end runs at the spot, and comes nearer to it."""
    way, there = dist(start, end), dist(start, spot)
    if min(way, there) == 0.0 or dist(end, spot) >= there:
        return False
    along = (end.x - start.x) * (spot.x - start.x) + (end.y - start.y) * (spot.y - start.y)
    return along >= ASIDE * way * there
