"""The picture's floor while lines are drawn on it: circles, and where each line has got to.

A line begins at the edge of its own person's circle, or where that person's line before it
ended, and stops at the edge of the circle it runs into.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import combinations
from typing import Final, NamedTuple

from plays.core.drawing.frame import Frame
from plays.core.play import Point, Role
from plays.core.sequence.course import Scene
from shared.core.drawing.curves import XY, Curve, direction, distance

RADIUS: Final = 10.5
"""Points: a person's circle."""

GAP: Final = 2.0
"""Points left free between a line and the circle it starts from or runs into."""

RIM: Final = 1.0
"""Points left free between a circle and the edge of the picture."""

MOST_SHIFT: Final = 9.0
"""Points: circles that overlap are moved apart, each by no more than this."""


class Tip(NamedTuple):
    """Where a person's last line goes, its direction there, and where its ink ends."""

    at: XY
    way: XY
    ink: XY


class Ground:
    """A phase on the picture. Its circles are people at the beginning of the phase."""

    def __init__(self, scene: Scene, frame: Frame, ring: XY, radius: float = RADIUS) -> None:
        self.scene, self.frame, self.ring, self.radius = scene, frame, ring, radius
        places = {role: frame.to(place) for role, place in scene.places.items()}
        apart = spread(places, 2 * radius + GAP)
        self.circles: Mapping[Role, XY] = {
            role: frame.held(place, radius + RIM) for role, place in apart.items()
        }
        self.tips: dict[Role, Tip] = {}

    def here(self, role: Role, place: Point) -> XY:
        """Where a role stands that the course puts at ``place``."""
        if role in self.tips:
            return self.tips[role].at
        return self.circles.get(role, self.frame.to(place))

    def ink(self, role: Role, place: Point) -> XY:
        """Where a role's last line ends on paper, or the middle of its circle."""
        return self.tips[role].ink if role in self.tips else self.here(role, place)

    def edge(self, role: Role, place: Point, towards: XY) -> XY:
        """Where the ink of a person ends on the side of a point: a tip, or the circle's edge."""
        if role in self.tips:
            return self.tips[role].ink
        center = self.here(role, place)
        way = direction(center, towards)
        return center[0] + self.radius * way[0], center[1] + self.radius * way[1]

    def left(self, curve: Curve, role: Role) -> Curve:
        """The curve from where it leaves its own person."""
        if role in self.tips or role not in self.circles:
            return curve.part(GAP if curve.length > 3 * GAP else 0, curve.length)
        center, clear = self.circles[role], self.radius + GAP
        begin = 0.0
        for _ in range(8):
            begin += clear - distance(curve.place(begin).at, center)
            begin = min(max(begin, 0.0), curve.length)
        return curve.part(begin, curve.length)

    def arrived(self, curve: Curve, role: Role) -> Curve:
        """The curve up to the edge of another person's circle, if it ends inside of one."""
        clear = self.radius + GAP
        for other, center in self.circles.items():
            inside = distance(curve.end, center) < clear
            if inside and (other != role or curve.length > 4 * self.radius):
                return curve.part(0, _entry(curve, center, clear))
        return curve


def spread(places: Mapping[Role, XY], least: float) -> dict[Role, XY]:
    """The places moved apart as little as it takes to bring each pair ``least`` apart."""
    moved = dict(places)
    for _ in range(6):
        for a, b in combinations(moved, 2):
            lack = least - distance(moved[a], moved[b])
            if lack > 1e-6:
                way = direction(moved[a], moved[b])
                moved[a] = _pushed(places[a], moved[a], way, -lack / 2)
                moved[b] = _pushed(places[b], moved[b], way, lack / 2)
    return moved


def _pushed(home: XY, at: XY, way: XY, by: float) -> XY:
    to = at[0] + by * way[0], at[1] + by * way[1]
    far = distance(home, to)
    if far <= MOST_SHIFT:
        return to
    share = MOST_SHIFT / far
    return home[0] + share * (to[0] - home[0]), home[1] + share * (to[1] - home[1])


def _entry(curve: Curve, center: XY, clear: float) -> float:
    """The length at which a curve enters a circle for the last time."""
    finish = curve.length
    for _ in range(8):
        finish -= clear - distance(curve.place(finish).at, center)
        finish = min(max(finish, 0.0), curve.length)
    return finish
