"""Plane curves: smooth paths through waypoints, their length, and places along them.

Units are the caller's; points are pairs (x, y). A ``Curve`` is a chain of cubic Bézier
pieces. Lengths come from Gauss-Legendre quadrature of the speed, so that cutting a curve at
a length is exact and does not depend on how finely it is later drawn.

Sources: centripetal Catmull-Rom splines have no cusp and no loop inside a piece (Yuksel,
Schaefer and Keyser, "Parameterization and applications of Catmull-Rom curves", 2011; from
memory); nodes and weights as numpy.polynomial.legendre.leggauss gives them.

Long since a curve is one kind of value: what measures it and what cuts it share its pieces.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import atan2, ceil, cos, hypot, pi, sin, sqrt, tan
from typing import Final, NamedTuple

XY = tuple[float, float]

SHARP_TURN: Final = 100.0
"""Degrees: a turn sharper than this is a plant of the foot, drawn as a corner."""

_INTERVALS: Final = 4

_GAUSS_4: Final = (
    (0.06943184420297371, 0.17392742256872692),
    (0.33000947820757187, 0.32607257743127307),
    (0.6699905217924281, 0.32607257743127307),
    (0.9305681557970262, 0.17392742256872692),
)
_GAUSS_8: Final = (
    (0.019855071751231912, 0.05061426814518813),
    (0.10166676129318664, 0.1111905172266872),
    (0.23723379504183548, 0.15685332293894363),
    (0.4082826787521751, 0.18134189168918097),
    (0.5917173212478249, 0.18134189168918097),
    (0.7627662049581645, 0.15685332293894363),
    (0.8983333387068134, 0.1111905172266872),
    (0.9801449282487682, 0.05061426814518813),
)


class Cubic(NamedTuple):
    """One cubic Bézier piece: its two ends and the two handles between them."""

    start: XY
    out: XY
    into: XY
    end: XY

    def at(self, t: float) -> XY:
        """The point at parameter ``t``, 0 to 1."""
        u = 1 - t
        a, b, c, d = u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self
        return a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3

    def velocity(self, t: float) -> XY:
        """The derivative by ``t``."""
        u = 1 - t
        a, b, c = 3 * u * u, 6 * u * t, 3 * t * t
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self
        return (
            a * (x1 - x0) + b * (x2 - x1) + c * (x3 - x2),
            a * (y1 - y0) + b * (y2 - y1) + c * (y3 - y2),
        )

    def split(self, t: float) -> tuple[Cubic, Cubic]:
        """The two parts before and after ``t`` (de Casteljau)."""
        p0, p1, p2, p3 = self
        a, b, c = between(p0, p1, t), between(p1, p2, t), between(p2, p3, t)
        d, e = between(a, b, t), between(b, c, t)
        middle = between(d, e, t)
        return Cubic(p0, a, d, middle), Cubic(middle, e, c, p3)

    def length(self, begin: float = 0.0, finish: float = 1.0) -> float:
        """Arc length between two parameters, by eight nodes for the whole piece."""
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self
        ax, ay = 3 * (x3 - x0 + 3 * (x1 - x2)), 3 * (y3 - y0 + 3 * (y1 - y2))
        bx, by = 6 * (x0 - 2 * x1 + x2), 6 * (y0 - 2 * y1 + y2)
        cx, cy = 3 * (x1 - x0), 3 * (y1 - y0)
        span, total = finish - begin, 0.0
        for node, weight in _GAUSS_8 if span > 0.5 else _GAUSS_4:
            t = begin + span * node
            total += weight * hypot((ax * t + bx) * t + cx, (ay * t + by) * t + cy)
        return span * total

    @property
    def even(self) -> bool:
        """Whether the piece is a straight line run at an even speed."""
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = self
        return (
            abs(x3 - x0 - 3 * (x1 - x0)) + abs(y3 - y0 - 3 * (y1 - y0)) < 1e-9
            and abs(x3 - x0 - 3 * (x3 - x2)) + abs(y3 - y0 - 3 * (y3 - y2)) < 1e-9
        )


class CurvePlace(NamedTuple):
    """A point of a curve and the unit direction in which the curve runs there."""

    at: XY
    way: XY


@dataclass(frozen=True)
class Curve:
    """A chain of cubic pieces, each beginning where the one before ends."""

    pieces: tuple[Cubic, ...]

    @property
    def start(self) -> XY:
        return self.pieces[0].start

    @property
    def end(self) -> XY:
        return self.pieces[-1].end

    @property
    def length(self) -> float:
        return self._table[-1].along

    @cached_property
    def _table(self) -> tuple[_Knot, ...]:
        """Knots in order of length, by which a place is found quickly and cut exactly."""
        knots, along = [_Knot(0.0, 0, 0.0)], 0.0
        for index, piece in enumerate(self.pieces):
            if piece.even:
                along += distance(piece.start, piece.end)
                knots.append(_Knot(along, index, 1.0))
                continue
            for k in range(_INTERVALS):
                along += piece.length(k / _INTERVALS, (k + 1) / _INTERVALS)
                knots.append(_Knot(along, index, (k + 1) / _INTERVALS))
        return tuple(knots)

    def place(self, along: float) -> CurvePlace:
        """The place ``along`` the curve; before the start and past the end it goes on straight."""
        index, t = self._find(along)
        piece = self.pieces[index]
        at, way = piece.at(t), _way(piece, t)
        beyond = min(along, 0.0) + max(along - self.length, 0.0)
        return CurvePlace((at[0] + beyond * way[0], at[1] + beyond * way[1]), way)

    def part(self, begin: float, finish: float) -> Curve:
        """The part between two lengths, which are kept on the curve and in order."""
        begin = min(max(begin, 0.0), self.length)
        finish = min(max(finish, begin), self.length)
        (first, t0), (last, t1) = self._find(begin), self._find(finish)
        pieces = list(self.pieces[first : last + 1])
        pieces[-1] = pieces[-1].split(t1)[0]
        if last == first:
            t0 = t0 / t1 if t1 > 0 else 0.0
        pieces[0] = pieces[0].split(t0)[1]
        return Curve(tuple(pieces))

    def flatten(self, step: float) -> list[XY]:
        """Points no further apart than ``step`` along the handles; straight pieces too."""
        points = [self.start]
        for piece in self.pieces:
            count = max(1, ceil(_frame_length(piece) / step))
            points.extend(piece.at(k / count) for k in range(1, count + 1))
        return points

    def _find(self, along: float) -> tuple[int, float]:
        """The piece in which a length falls, and the parameter there."""
        table = self._table
        k = min(max(bisect_left(table, (along,)), 1), len(table) - 1)
        low, high = table[k - 1], table[k]
        from_t = low.t if low.piece == high.piece else 0.0
        share = (along - low.along) / (high.along - low.along) if high.along > low.along else 0.0
        t = from_t + min(max(share, 0.0), 1.0) * (high.t - from_t)
        piece = self.pieces[high.piece]
        if high.t - from_t < 1 and 0 < share < 1:
            t = _refined(piece, from_t, t, along - low.along)
        return high.piece, t


class _Knot(NamedTuple):
    """A length along a curve, and the piece and parameter at which it is reached."""

    along: float
    piece: int
    t: float


def _refined(piece: Cubic, begin: float, t: float, length: float) -> float:
    """``t`` after two Newton steps towards the point ``length`` past ``begin``."""
    for _ in range(2):
        speed = hypot(*piece.velocity(t))
        if speed > 0:
            t = min(max(t - (piece.length(begin, t) - length) / speed, begin), 1.0)
    return t


def smooth(points: Sequence[XY], *, sharp: float = SHARP_TURN, finish: XY | None = None) -> Curve:
    """A centripetal Catmull-Rom curve through ``points``, with corners at sharp turns.

    ``finish`` is a unit direction in which the curve is to arrive. Points that repeat the one
    before are dropped. Raises ValueError when fewer than one point is given.
    """
    kept = _distinct(points)
    if not kept:
        raise ValueError("a curve needs a point")
    if len(kept) == 1:
        return Curve((Cubic(kept[0], kept[0], kept[0], kept[0]),))
    pieces: list[Cubic] = []
    run = [kept[0]]
    for index in range(1, len(kept)):
        run.append(kept[index])
        last = index == len(kept) - 1
        if last or turn(kept[index - 1], kept[index], kept[index + 1]) > sharp:
            pieces.extend(_spline(run, finish if last else None))
            run = [kept[index]]
    return Curve(tuple(pieces))


def line(*points: XY) -> Curve:
    """Straight pieces through ``points``."""
    return Curve(tuple(_straight(a, b) for a, b in pairwise(points)))


def arc(center: XY, radius: float, begin: float, finish: float) -> Curve:
    """A circular arc from angle to angle, in radians, in pieces of at most a quarter turn.

    The radius is met within 2.8e-4 of itself.
    """
    count = max(1, ceil(abs(finish - begin) / (pi / 2) - 1e-9))
    sweep = (finish - begin) / count
    handle = 4 / 3 * tan(sweep / 4)
    return Curve(
        tuple(_arc_piece(center, radius, begin + k * sweep, sweep, handle) for k in range(count))
    )


def turn(before: XY, at: XY, after: XY) -> float:
    """By how many degrees, 0 to 180, a path changes direction at a point."""
    ax, ay = at[0] - before[0], at[1] - before[1]
    bx, by = after[0] - at[0], after[1] - at[1]
    return abs(atan2(ax * by - ay * bx, ax * bx + ay * by)) * 180 / pi


def between(a: XY, b: XY, share: float) -> XY:
    """The point that lies ``share`` of the way from ``a`` to ``b``."""
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def distance(a: XY, b: XY) -> float:
    """Straight from ``a`` to ``b``."""
    return hypot(b[0] - a[0], b[1] - a[1])


def direction(a: XY, b: XY) -> XY:
    """The unit vector from ``a`` to ``b``; (1, 0) when they coincide."""
    length = distance(a, b)
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length) if length > 0 else (1.0, 0.0)


def to_segment(point: XY, a: XY, b: XY) -> float:
    """Distance from a point to the segment from ``a`` to ``b``."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy
    share = ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / square if square > 0 else 0.0
    return distance(point, between(a, b, min(max(share, 0.0), 1.0)))


def nearest(points: Sequence[XY], target: XY) -> tuple[int, float]:
    """Index of the segment of a polyline that comes nearest to ``target``, and how near."""
    gaps = [to_segment(target, a, b) for a, b in pairwise(points)]
    least = min(range(len(gaps)), key=gaps.__getitem__)
    return least, gaps[least]


def _distinct(points: Iterable[XY]) -> list[XY]:
    kept: list[XY] = []
    for x, y in points:
        if not kept or distance(kept[-1], (x, y)) > 1e-9:
            kept.append((float(x), float(y)))
    return kept


def _straight(a: XY, b: XY) -> Cubic:
    return Cubic(a, between(a, b, 1 / 3), between(a, b, 2 / 3), b)


def _spline(points: list[XY], finish: XY | None) -> list[Cubic]:
    if len(points) == 2 and finish is None:
        return [_straight(points[0], points[1])]
    before = _mirrored(points[1], points[0])
    after = _mirrored(points[-2], points[-1])
    padded = [before, *points, after]
    pieces = [_catmull_rom(*padded[k : k + 4]) for k in range(len(points) - 1)]
    if finish is not None:
        pieces[-1] = _arriving(pieces[-1], finish)
    return pieces


def _mirrored(inner: XY, end: XY) -> XY:
    return 2 * end[0] - inner[0], 2 * end[1] - inner[1]


def _arriving(piece: Cubic, way: XY) -> Cubic:
    reach = distance(piece.start, piece.end) / 3
    into = (piece.end[0] - reach * way[0], piece.end[1] - reach * way[1])
    return Cubic(piece.start, piece.out, into, piece.end)


def _catmull_rom(p0: XY, p1: XY, p2: XY, p3: XY) -> Cubic:
    """The Bézier form of the centripetal Catmull-Rom piece from ``p1`` to ``p2``."""
    a, b, c = sqrt(distance(p0, p1)), sqrt(distance(p1, p2)), sqrt(distance(p2, p3))
    return Cubic(p1, _handle(p0, p1, p2, a, b), _handle(p3, p2, p1, c, b), p2)


def _handle(back: XY, here: XY, there: XY, a: float, b: float) -> XY:
    """The handle at ``here`` towards ``there``; ``a`` and ``b`` are the roots of the chords."""
    mine = 2 * a * a + 3 * a * b + b * b
    scale = 3 * a * (a + b)
    return (
        (a * a * there[0] - b * b * back[0] + mine * here[0]) / scale,
        (a * a * there[1] - b * b * back[1] + mine * here[1]) / scale,
    )


def _arc_piece(center: XY, radius: float, begin: float, sweep: float, handle: float) -> Cubic:
    c0, s0, c1, s1 = cos(begin), sin(begin), cos(begin + sweep), sin(begin + sweep)
    unit = (
        (c0, s0),
        (c0 - handle * s0, s0 + handle * c0),
        (c1 + handle * s1, s1 - handle * c1),
        (c1, s1),
    )
    points = [(center[0] + radius * x, center[1] + radius * y) for x, y in unit]
    return Cubic(points[0], points[1], points[2], points[3])


def _way(piece: Cubic, t: float) -> XY:
    dx, dy = piece.velocity(t)
    if hypot(dx, dy) <= 1e-12:
        return direction(piece.start, piece.end)
    return direction((0.0, 0.0), (dx, dy))


def _frame_length(piece: Cubic) -> float:
    return (
        distance(piece.start, piece.out)
        + distance(piece.out, piece.into)
        + distance(piece.into, piece.end)
    )
