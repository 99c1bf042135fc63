"""From one rule set's court to another's by landmarks, not by scaling.

Units and axes as in ``play``. A place is first told in landmarks that all courts share, then
read on the other court:

- across, in the row of the place: 0 the middle, 1/2 the lane line, 1 the three-point line,
  3/2 the edge of the strip along the sideline, 2 the sideline;
- up, in the column of such a number: the baseline, the basket, the block from and to, the
  free-throw line, the top of the arc (in the sideline strip more and more the throw-in mark)
  and the centre line.

Both are piecewise linear and increasing, so the map is continuous, undone by the map back, and
a place is inside the arc, in the lane or beside the block on one court just when it is on the
other. Above the free-throw line the lane line bends with the arc to its top. Places out of
bounds keep their distance from the line, and the backcourt is mapped as the frontcourt is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import hypot, sqrt
from typing import Final

from plays.core.court.courts import Court, court, side_sign
from plays.core.court.spots import named_spots
from plays.core.limits import DIGITS
from plays.core.moves.origins import MoveStep, with_step
from plays.core.moves.rewrite import with_places
from plays.core.play import Play, Point, RuleSet, Spot

STRIP: Final = 0.25  # where the sideline strip begins, from the arc or lane to the sideline
BESIDE: Final = 0.051  # just not the place itself, on the millimetre
SAME_PLACE: Final = 0.05  # as near as this to a named place counts as the place itself

Knots = Sequence[tuple[float, float]]


def map_point(a: Court, b: Court, point: Point) -> Point:
    """The place on court ``b`` that corresponds to ``point`` on court ``a``; not rounded."""
    if point.y > a.half_y:
        turned = map_point(a, b, Point(point.x, a.length - point.y))
        return Point(turned.x, b.length - turned.y)
    side = -1.0 if point.x < 0 else 1.0
    across = _read(_row(a, point.y), abs(point.x))
    up = _read(_column(a, across), point.y)
    y = _read(_swapped(_column(b, across)), up)
    x = _read(_swapped(_row(b, y)), across)
    return Point(side * x + 0.0, y)


def on_court(play: Play, rule_set: RuleSet) -> Play:
    """The play for another rule set's court, its places on the millimetre.

    A person at a named place stays at the place of that name, and a throw-in from the rule
    book's mark is taken from the other book's mark. A throw-in from the baseline at the other
    end stays behind that baseline.
    """
    a, b = court(play.court), court(rule_set)
    if rule_set == play.court:
        return play
    old = play.spot
    new = None if old is None else _spot(a, b, old)

    def place(point: Point) -> Point:
        if old is not None and new is not None and _near(point, a.spot_place(old)):
            return _grid(b.spot_place(new))
        return _grid(_by_name(a, b, point) or beside_names(b, map_point(a, b, point)))

    moved = replace(with_places(play, place), court=rule_set, spot=new)
    return with_step(play, moved, MoveStep("court", play.court.value, rule_set.value))


def _spot(a: Court, b: Court, spot: Spot) -> Spot:
    if spot.edge == "sideline":
        along = map_point(a, b, Point(side_sign(spot.side) * a.half_width, spot.along)).y
    else:
        mark = a.baseline_spot_x  # written on the millimetre, it is still the mark
        here = mark if abs(spot.along - mark) < 10**-DIGITS else spot.along
        along = _read(_swapped(_baseline(b)), _read(_baseline(a), here))
    return replace(spot, along=round(along, DIGITS))


def _baseline(floor: Court) -> Knots:
    """Landmarks of a throw-in from the baseline: its own mark is one, so that the map goes back."""
    marks = (floor.lane_half_width, floor.baseline_spot_x, floor.corner_x, floor.half_width)
    return ((0.0, 0.0), *((metres, float(n)) for n, metres in enumerate(marks, start=1)))


def _by_name(a: Court, b: Court, point: Point) -> Point | None:
    for key, place in named_spots(a).items():
        if _near(point, place):
            return named_spots(b)[key]
    return None


def beside_names(floor: Court, point: Point) -> Point:
    """A place that has no name stays just beside those that have one, or the way back would take
    it for the named place."""
    for place in named_spots(floor).values():
        away = hypot(point.x - place.x, point.y - place.y)
        if away < SAME_PLACE:
            right, up = (
                ((point.x - place.x) / away, (point.y - place.y) / away) if away else (0.0, 1.0)
            )
            return Point(place.x + right * BESIDE, place.y + up * BESIDE)
    return point


def _near(one: Point, other: Point) -> bool:
    return hypot(one.x - other.x, one.y - other.y) < SAME_PLACE


def _row(floor: Court, y: float) -> Knots:
    """Landmarks across at this height: (metres, number), outwards from the middle."""
    y = max(0.0, y)
    arc, lane = _arc(floor, y), floor.lane_half_width
    start = max(arc, lane)
    strip = start + STRIP * (floor.half_width - start)
    outer = ((arc, 1.0), (strip, 1.5), (floor.half_width, 2.0))
    if arc == 0.0:
        return outer
    if y > floor.free_throw_y:
        lane *= arc / _arc(floor, floor.free_throw_y)
    return ((0.0, 0.0), (lane, 0.5), *outer)


def _column(floor: Court, across: float) -> Knots:
    """Landmarks up the court in this column: (metres, number), from the baseline."""
    outward = min(max(0.0, 2 * across - 3), 1.0)  # 0 up to the strip, 1 at the sideline
    top = floor.arc_top_y + outward * (floor.throw_in_y - floor.arc_top_y)
    heights = (0.0, floor.basket.y, *floor.block, floor.free_throw_y, top, floor.half_y)
    return tuple((height, float(number)) for number, height in enumerate(heights))


def _arc(floor: Court, y: float) -> float:
    """|x| of the three-point line at this height; 0 from the top of the arc on."""
    if y <= floor.arc_join_y:
        return floor.corner_x
    if y >= floor.arc_top_y:
        return 0.0
    return min(floor.corner_x, sqrt(floor.arc_radius**2 - (y - floor.basket.y) ** 2))


def _read(knots: Knots, value: float) -> float:
    """Linear between the knots; beyond the first and the last, the same distance off."""
    old, new = knots[0]
    if value <= old:
        return new + (value - old)
    for next_old, next_new in knots[1:]:
        if value < next_old:
            return new + (value - old) * (next_new - new) / (next_old - old)
        old, new = next_old, next_new
    return new + (value - old)


def _swapped(knots: Knots) -> Knots:
    return tuple((new, old) for old, new in knots)


def _grid(point: Point) -> Point:
    return Point(round(point.x, DIGITS) + 0.0, round(point.y, DIGITS) + 0.0)
