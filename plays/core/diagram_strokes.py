"""The lines of a diagram: each action put on the picture as a curve with its ending.

A line begins at the edge of its own person's circle, or where that person's line before it
ended, and stops at the edge of the circle it runs into. Line styles follow the World
Association of Basketball Coaches, Coaches Manual, 3.1 "Understanding diagrams": movement
solid, pass broken, dribble waved, screen a line that ends in a bar; two short bars for a
hand-off are common practice.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from math import cos, hypot, radians
from typing import Final

from plays.core.course import Leg, Scene
from plays.core.diagram_frame import Frame
from plays.core.play import Action, ActionKind, JointShape, Look, PassKind, Point, Role
from shared.core.geometry import XY, Cubic, Curve, direction, distance, line, nearest, smooth

RADIUS: Final = 10.5
"""Points: a person's circle."""

GAP: Final = 2.0
"""Points left free between a line and the circle it starts from or runs into."""

SHORTEST: Final = 7.0
"""Points: a line shorter than this says nothing and is left out."""

TIP_GAP: Final = 9.0
"""A pass stops this far before the tip of the receiver's own arrow."""

BULGE: Final = 0.13
"""How far a lob's line arches, as a share of its length."""

TURN_LIMIT: Final = cos(radians(55))


class Style(StrEnum):
    MOVE = "move"
    SCREEN = "screen"
    DRIBBLE = "dribble"
    PASS = "pass"
    HANDOFF = "handoff"
    SHOT = "shot"


@dataclass(frozen=True, slots=True)
class Stroke:
    """One line of a diagram in points; its curve ends at the tip of the arrow or at the bar.

    ``action`` is the id of the action or, of a pass that may be made, of the look; ``order``
    is the place of that look among the play's looks, from 1.
    """

    action: str
    role: Role
    to: Role | None
    style: Style
    curve: Curve
    bounce: bool = False
    order: int | None = None
    drawn: bool = True


@dataclass(frozen=True, slots=True)
class Chance:
    """A look of this phase: who passes to whom, from where to where on the floor."""

    look: Look
    order: int
    start: Point
    end: Point


_STYLES: Final = {
    ActionKind.CUT: Style.MOVE,
    ActionKind.HOLD: Style.MOVE,
    ActionKind.SCREEN: Style.SCREEN,
    ActionKind.DRIBBLE: Style.DRIBBLE,
    ActionKind.PASS: Style.PASS,
    ActionKind.HANDOFF: Style.HANDOFF,
    ActionKind.SHOT: Style.DRIBBLE,  # the way to the shot; the shot itself is added
}


def strokes(
    scene: Scene, chances: tuple[Chance, ...], frame: Frame, ring: XY, radius: float = RADIUS
) -> tuple[Stroke, ...]:
    """The lines of a phase in the order of its actions, then the looks that nobody passes yet."""
    floor = _Floor(scene, frame, ring, radius)
    made: list[Stroke] = []
    for leg in scene.legs:
        made.extend(floor.stroke(leg, chances))
    passed = {(stroke.role, stroke.to) for stroke in made if stroke.order is not None}
    made.extend(
        floor.chance(chance)
        for chance in chances
        if (chance.look.passer, chance.look.receiver) not in passed
    )
    return tuple(stroke for stroke in made if stroke.drawn)


class _Floor:
    """Where everybody's line has got to while the actions are drawn one after another."""

    def __init__(self, scene: Scene, frame: Frame, ring: XY, radius: float) -> None:
        self.scene, self.frame, self.ring, self.radius = scene, frame, ring, radius
        self.circles: Mapping[Role, XY] = {
            role: frame.to(place) for role, place in scene.places.items()
        }
        self.tips: dict[Role, XY] = {}

    def stroke(self, leg: Leg, chances: tuple[Chance, ...]) -> Iterator[Stroke]:
        action = leg.action
        if action.kind is ActionKind.PASS:
            yield self._pass(leg, chances)
        elif action.kind is ActionKind.HANDOFF:
            yield self._handoff(leg)
        elif action.path or action.kind is ActionKind.SCREEN:
            yield self._move(leg)
        if action.kind is ActionKind.SHOT:
            yield self._shot(action)

    def chance(self, chance: Chance) -> Stroke:
        look = chance.look
        pair = look.passer, look.receiver
        curve = self._flight(pair, (chance.start, chance.end), look.pass_kind, at=look.at)
        bounce = look.pass_kind is PassKind.BOUNCE
        drawn = curve.length >= SHORTEST
        return Stroke(
            look.id, look.passer, look.receiver, Style.PASS, curve, bounce, chance.order, drawn
        )

    def _move(self, leg: Leg) -> Stroke:
        action = leg.action
        points = [self.frame.to(point) for point in leg.points]
        way = self._screen_way(leg) if action.kind is ActionKind.SCREEN else None
        whole = smooth(points, finish=self._leaning(points, way)) if len(points) > 1 else None
        if whole is None or whole.length < 1e-6:
            curve = self._on_the_spot(action, points[0], way)
        else:
            curve = self._arrived(self._left(whole, action.role), action.role)
        if curve.length < SHORTEST and action.kind is ActionKind.SCREEN:
            curve = self._on_the_spot(action, points[-1], way)
        self.tips[action.role] = curve.end if whole is not None else points[0]
        drawn = curve.length >= SHORTEST or action.kind is ActionKind.SCREEN
        return Stroke(
            action.id, action.role, action.cutter, _STYLES[action.kind], curve, drawn=drawn
        )

    def _shot(self, action: Action) -> Stroke:
        start = self.tips.get(action.role, self.circles[action.role])
        straight = line(start, self.ring)
        curve = self._left(straight, action.role)
        curve = curve.part(0, curve.length - 0.3 * self.frame.scale)
        drawn = curve.length >= SHORTEST
        return Stroke(f"{action.id}.shot", action.role, None, Style.SHOT, curve, drawn=drawn)

    def _pass(self, leg: Leg, chances: tuple[Chance, ...]) -> Stroke:
        action, to = leg.action, leg.action.to
        order = next(
            (
                chance.order
                for chance in chances
                if (chance.look.passer, chance.look.receiver) == (action.role, to)
            ),
            None,
        )
        kind = action.pass_kind or PassKind.DIRECT
        curve = self._flight((action.role, to), (leg.start, leg.end), kind)
        bounce, drawn = kind is PassKind.BOUNCE, curve.length >= SHORTEST
        return Stroke(action.id, action.role, to, Style.PASS, curve, bounce, order, drawn)

    def _handoff(self, leg: Leg) -> Stroke:
        """A short stretch about the middle between the two, however near they stand."""
        start, end = self.frame.to(leg.start), self.frame.to(leg.end)
        giver = self.tips.get(leg.action.role, start)
        taker = self.tips.get(leg.action.to, end) if leg.action.to else end
        way = direction(giver, taker) if distance(giver, taker) > 1 else direction(end, self.ring)
        length = max(distance(giver, taker), 2 * self.radius)
        whole = line(giver, (giver[0] + length * way[0], giver[1] + length * way[1]))
        middle = whole.length / 2 if length > 2 * self.radius + 8 else self.radius + GAP + 4
        curve = whole.part(middle - 5, middle + 5)
        return Stroke(leg.action.id, leg.action.role, leg.action.to, Style.HANDOFF, curve)

    def _flight(
        self,
        pair: tuple[Role, Role | None],
        ends: tuple[Point, Point],
        kind: PassKind,
        at: Point | None = None,
    ) -> Curve:
        """The ball's way from passer to receiver; ``at`` is set where it meets a run midway."""
        passer, receiver = pair
        a = self.tips.get(passer, self.frame.to(ends[0]))
        b = self.frame.to(ends[1])
        whole = self._lob(a, b) if kind is PassKind.LOB else line(a, b)
        curve = self._left(whole, passer)
        if receiver is not None and receiver in self.tips and at is None:
            return curve.part(0, curve.length - TIP_GAP)
        return self._arrived(curve, passer)

    def _lob(self, a: XY, b: XY) -> Curve:
        """An arch to the side on which fewer people stand in its way."""
        nx, ny = a[1] - b[1], b[0] - a[0]
        arches = []
        for side in (1, -1):
            handles = [
                (
                    a[0] + t * (b[0] - a[0]) + side * 4 / 3 * BULGE * nx,
                    a[1] + t * (b[1] - a[1]) + side * 4 / 3 * BULGE * ny,
                )
                for t in (0.25, 0.75)
            ]
            arches.append(Cubic(a, handles[0], handles[1], b))
        return Curve((max(arches, key=lambda arch: self._clearance(arch.at(0.5))),))

    def _clearance(self, point: XY) -> float:
        return min(distance(point, circle) for circle in self.circles.values())

    def _left(self, curve: Curve, role: Role) -> Curve:
        """The curve from where it leaves its own person."""
        tip = self.tips.get(role)
        if tip is not None:
            return curve.part(GAP if curve.length > 3 * GAP else 0, curve.length)
        center, clear = self.circles[role], self.radius + GAP
        begin = max(0.0, clear - distance(curve.start, center))
        for _ in range(6):
            begin += clear - distance(curve.place(begin).at, center)
            begin = min(max(begin, 0.0), curve.length)
        return curve.part(begin, curve.length)

    def _arrived(self, curve: Curve, role: Role) -> Curve:
        """The curve up to the edge of another person's circle, if it ends inside of one."""
        clear = self.radius + GAP
        for other, center in self.circles.items():
            inside = distance(curve.end, center) < clear
            if inside and (other != role or curve.length > 4 * self.radius):
                return curve.part(0, self._edge(curve, center, clear))
        return curve

    def _edge(self, curve: Curve, center: XY, clear: float) -> float:
        """The length at which the curve enters a circle for the last time."""
        finish = curve.length
        for _ in range(8):
            finish -= clear - distance(curve.place(finish).at, center)
            finish = min(max(finish, 0.0), curve.length)
        return finish

    def _screen_way(self, leg: Leg) -> XY | None:
        """The direction in which the cutter runs past a screen, in the picture."""
        partner = leg.action.joint or None
        runs = [
            other
            for other in self.scene.legs
            if other.action.role == leg.action.cutter
            and len(other.points) > 1
            and other.action.kind not in (ActionKind.PASS, ActionKind.HANDOFF)
        ]
        if not runs or (partner and partner.shape is JointShape.GATE and partner.part == "close"):
            return None
        best: tuple[float, XY] | None = None
        for run in runs:
            points = smooth(run.points).flatten(0.25)
            index, gap = nearest(points, leg.end)
            if best is None or gap < best[0]:
                best = (gap, direction(points[index], points[index + 1]))
        return best[1] if best and best[0] < 2.5 else None

    def _leaning(self, points: list[XY], way: XY | None) -> XY | None:
        """The cutter's line where a screener can arrive along it without a twist."""
        if way is None:
            return None
        run = direction(points[-2], points[-1])
        along = run[0] * way[0] + run[1] * way[1]
        if abs(along) < TURN_LIMIT:
            return None
        sign = 1 if along > 0 else -1
        return sign * way[0], sign * way[1]

    def _on_the_spot(self, action: Action, here: XY, way: XY | None) -> Curve:
        """For a screen set where one stands: a stub out of the circle, against the cutter."""
        if way is None and action.cutter is not None:
            way = direction(self.circles[action.cutter], here)
        dx, dy = way or (0.0, 1.0)
        begin, finish = self.radius, self.radius + GAP + 1.5
        start = (here[0] - begin * dx, here[1] - begin * dy)
        return line(start, (here[0] - finish * dx, here[1] - finish * dy))


def midway(stroke: Stroke, share: float) -> tuple[XY, XY]:
    """A place on a stroke and the unit vector square to it."""
    at, way = stroke.curve.place(share * stroke.curve.length)
    length = hypot(*way)
    return at, (-way[1] / length, way[0] / length)
