"""The ball's ways through a diagram: passes, looks, hand-offs and shots.

Curves in points, as in ``diagram_ground``; they say the way on the picture, and nothing of the
ball's true flight, which is ``motion_flight``.
"""

from __future__ import annotations

from typing import Final

from plays.core.drawing.ground import GAP, Ground
from plays.core.play import PassKind, Point, Role
from shared.core.drawing.curves import XY, Cubic, Curve, between, direction, distance, line

BULGE: Final = 0.13
"""How far a lob's line arches, as a share of its length."""

BESIDE: Final = 7.5
"""Points: a pass to someone on the run ends so far beside the tip of the run's arrow."""

BEFORE: Final = 4.0
"""Points: a pass that meets a run midway stops so far before it."""

SHORT: Final = 14.0
"""Points: a pass between people who stand closer than this leaves on their side, in a bow."""

HALF_HANDOFF: Final = 5.0
CLOSE: Final = 2.0
"""Points: two ends nearer than this give no direction."""


def flight(
    ground: Ground,
    pair: tuple[Role, Role | None],
    ends: tuple[Point, Point],
    kind: PassKind,
    at: Point | None = None,
) -> Curve:
    """The ball's way from passer to receiver; ``at`` is set where it meets a run midway."""
    passer, receiver = pair
    a = ground.here(passer, ends[0])
    b = _aim(ground, receiver, ends[1], a, at)
    whole = _lob(ground, a, b) if kind is PassKind.LOB else line(a, b)
    curve = ground.left(whole, passer)
    if at is not None:
        return curve.part(0, curve.length - BEFORE)
    curve = ground.arrived(curve, passer)
    if curve.length >= SHORT or distance(a, b) < CLOSE:
        return curve
    bow = _arch(ground, a, b, 4 / 3 * (ground.radius + SHORT))
    return ground.arrived(ground.left(bow, passer), passer)


def handoff(ground: Ground, pair: tuple[Role, Role | None], ends: tuple[Point, Point]) -> Curve:
    """A short line in the middle between two people, from giver to taker."""
    giver, taker = pair
    a = ground.ink(giver, ends[0])
    b = ground.ink(taker, ends[1]) if taker else ground.frame.to(ends[1])
    from_edge = ground.edge(giver, ends[0], b)
    to_edge = ground.edge(taker, ends[1], a) if taker else b
    middle = between(from_edge, to_edge, 0.5)
    way = direction(from_edge, to_edge)
    if distance(from_edge, to_edge) < CLOSE:
        way = direction(a, b) if distance(a, b) > CLOSE else _arrival(ground, taker)
    dx, dy = HALF_HANDOFF * way[0], HALF_HANDOFF * way[1]
    return line((middle[0] - dx, middle[1] - dy), (middle[0] + dx, middle[1] + dy))


def shot(ground: Ground, role: Role, place: Point) -> Curve:
    """From the shooter to the edge of the ring."""
    curve = ground.left(line(ground.here(role, place), ground.ring), role)
    return curve.part(0, curve.length - 0.225 * ground.frame.scale - GAP)


def _aim(ground: Ground, receiver: Role | None, end: Point, start: XY, at: Point | None) -> XY:
    """Where a pass is drawn to: beside the tip of a run, on the passer's side of it."""
    if receiver is None or at is not None:
        return ground.frame.to(end)
    tip = ground.tips.get(receiver)
    if tip is None:
        return ground.here(receiver, end)
    nx, ny = -tip.way[1], tip.way[0]
    side = (start[0] - tip.at[0]) * nx + (start[1] - tip.at[1]) * ny
    reach = BESIDE if side >= 0 else -BESIDE
    return tip.at[0] + reach * nx, tip.at[1] + reach * ny


def _lob(ground: Ground, a: XY, b: XY) -> Curve:
    return _arch(ground, a, b, 4 / 3 * BULGE * distance(a, b))


def _arch(ground: Ground, a: XY, b: XY, reach: float) -> Curve:
    """An arch to the side on which fewer people stand in its way."""
    way = direction(a, b)
    nx, ny = -reach * way[1], reach * way[0]
    arches = []
    for side in (1, -1):
        (x1, y1), (x2, y2) = between(a, b, 0.25), between(a, b, 0.75)
        out, into = (x1 + side * nx, y1 + side * ny), (x2 + side * nx, y2 + side * ny)
        arches.append(Cubic(a, out, into, b))
    return Curve((max(arches, key=lambda arch: _clearance(ground, arch.at(0.5))),))


def _clearance(ground: Ground, point: XY) -> float:
    return round(min(distance(point, circle) for circle in ground.circles.values()), 6)


def _arrival(ground: Ground, role: Role | None) -> XY:
    tip = ground.tips.get(role) if role else None
    return tip.way if tip else (1.0, 0.0)
