"""The lines of a diagram: each action put on the picture as a curve with its ending.

Line styles follow the World Association of Basketball Coaches, Coaches Manual, 3.1
"Understanding diagrams": movement solid, pass broken, dribble waved, screen a line that ends
in a bar. Two short bars for a hand-off and dots for a shot are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import hypot
from types import MappingProxyType
from typing import Final

from plays.core.drawing.detour import detour
from plays.core.drawing.flights import flight, handoff, shot
from plays.core.drawing.gates import gate_bars, gate_part
from plays.core.drawing.ground import Ground, Tip
from plays.core.drawing.screens import Bar, arriving, bar_for, passing
from plays.core.play import ActionKind, PassKind, Point, Role
from plays.core.sequence.course import BALL_MOVERS, Leg, LookLane, Scene
from shared.core.drawing.curves import XY, Curve, direction, distance, line, smooth

STUB: Final = 1.5
"""Points: a way to a screen shorter than this goes straight from circle to bar."""

SHORTEST: Final = 7.0
"""Points: a line shorter than this says nothing and is left out."""

MEETING: Final = 8.0
"""Points by which a run to a hand-off stops short, to leave room for the two bars."""


class Style(StrEnum):
    """How a line is drawn: the kind of its action."""

    MOVE = "move"
    SCREEN = "screen"
    DRIBBLE = "dribble"
    PASS = "pass"
    HANDOFF = "handoff"
    SHOT = "shot"


@dataclass(frozen=True, slots=True)
class Stroke:
    """One line of a diagram in points; its curve ends at the tip of the arrow or at the bar.

    ``action`` is the id of the action or, of a pass that may be made, of the look; a shot has
    ".shot" behind the id. ``order`` is the look's place among the play's looks, from 1;
    ``faces`` is where a screen's bar looks, square to it, and ``gate`` says of one of a gate's
    screens whether it opens or closes.
    ``kind`` and ``path`` are the action's own, in metres, from where it begins.
    """

    action: str
    role: Role
    to: Role | None
    style: Style
    curve: Curve
    bounce: bool = False
    order: int | None = None
    faces: XY | None = None
    gate: str | None = None
    kind: str = ""
    path: tuple[Point, ...] = ()


_STYLES: Final = {
    ActionKind.CUT: Style.MOVE,
    ActionKind.HOLD: Style.MOVE,
    ActionKind.SCREEN: Style.SCREEN,
    ActionKind.DRIBBLE: Style.DRIBBLE,
    ActionKind.SHOT: Style.DRIBBLE,  # the way to the shot; the shot itself is added
}


def strokes(
    ground: Ground,
    chances: Sequence[LookLane],
    legs: Sequence[Leg],
    guards: Mapping[Role, XY] = MappingProxyType({}),
) -> tuple[Stroke, ...]:
    """The lines of a phase in the order of its actions, then the looks that nobody passes yet.

    ``legs`` are all of the play: a screen faces a cutter who may come in a later phase.
    ``guards`` are the crosses of defenders by whom they guard.
    """
    ground.tips.clear()
    bars = _bars(ground, legs, guards)
    meeting = _meeting(ground.scene.legs)
    made = [
        _told(leg, _screen(ground, leg, bars[leg.action.id])) for leg in held(ground.scene, legs)
    ]
    for leg in ground.scene.legs:
        made.extend(_told(leg, one) for one in _strokes(ground, leg, chances, bars, meeting))
    passed = {(stroke.role, stroke.to) for stroke in made if stroke.order is not None}
    for chance in chances:
        if (chance.look.passer, chance.look.receiver) not in passed:
            made.extend(_look(ground, chance))
    made.extend(_shots(ground, chances))
    return tuple(made)


def _shots(ground: Ground, chances: Sequence[LookLane]) -> Iterator[Stroke]:
    """One arrow to the ring for each who shoots after a look of this phase."""
    shooting = {chance.look.receiver: chance for chance in chances if chance.look.shot}
    already = {leg.action.role for leg in ground.scene.legs if leg.action.kind is ActionKind.SHOT}
    for role, chance in shooting.items():
        curve = shot(ground, role, chance.end)
        if role not in already and curve.length >= SHORTEST:
            yield Stroke(f"{chance.look.id}.shot", role, None, Style.SHOT, curve)


def _told(leg: Leg, stroke: Stroke) -> Stroke:
    return replace(stroke, kind=leg.action.kind.value, path=leg.points)


def held(scene: Scene, legs: Sequence[Leg]) -> list[Leg]:
    """Screens set in an earlier phase whose cutter comes in this one; their people still stand."""
    here = [leg.action.id for leg in scene.legs]
    first = [leg.action.id for leg in legs].index(here[0]) if here else 0
    last = {leg.action.role: leg for leg in legs[:first] if leg.action.kind not in BALL_MOVERS}
    again = {leg.action.role for leg in scene.legs if leg.action.kind is ActionKind.SCREEN}
    return [
        replace(leg, points=(leg.end,))
        for leg in last.values()
        if leg.action.kind is ActionKind.SCREEN
        and leg.action.role not in again
        and (run := passing(legs, leg)) is not None
        and run.leg.phase == scene.phase.id
    ]


def midway(stroke: Stroke, share: float) -> tuple[XY, XY]:
    """A place on a stroke and the unit vector square to it."""
    at, way = stroke.curve.place(share * stroke.curve.length)
    length = hypot(*way)
    return at, (-way[1] / length, way[0] / length)


def _bars(ground: Ground, legs: Sequence[Leg], guards: Mapping[Role, XY]) -> dict[str, Bar]:
    """The bar of every screen of the phase by the id of its action, gates first."""
    screens = [*held(ground.scene, legs), *ground.scene.legs]
    bars = dict(gate_bars(ground, legs, guards.values()))
    for leg in screens:
        if leg.action.kind is ActionKind.SCREEN and leg.action.id not in bars:
            run = passing(legs, leg)
            bars[leg.action.id] = bar_for(ground, leg, run, guards, list(bars.values()))
    return bars


def _strokes(
    ground: Ground,
    leg: Leg,
    chances: Sequence[LookLane],
    bars: Mapping[str, Bar],
    meeting: frozenset[str],
) -> Iterator[Stroke]:
    action = leg.action
    if action.kind is ActionKind.PASS:
        yield from _pass(ground, leg, chances)
    elif action.kind is ActionKind.HANDOFF:
        curve = handoff(ground, (action.role, action.to), (leg.start, leg.end))
        yield Stroke(action.id, action.role, action.to, Style.HANDOFF, curve)
    elif action.kind is ActionKind.SCREEN:
        yield _screen(ground, leg, bars[action.id])
    elif action.path:
        yield from _run(ground, leg, short=MEETING if action.id in meeting else 0.0)
    if action.kind is ActionKind.SHOT:
        curve = shot(ground, action.role, leg.end)
        if curve.length >= SHORTEST:
            yield Stroke(f"{action.id}.shot", action.role, None, Style.SHOT, curve)


def _run(ground: Ground, leg: Leg, *, short: float) -> Iterator[Stroke]:
    action = leg.action
    whole = smooth(_points(ground, leg))
    curve = ground.arrived(ground.left(whole, action.role), action.role)
    curve = curve.part(0, curve.length - short)
    ground.tips[action.role] = Tip(whole.end, whole.place(whole.length).way, curve.end)
    if curve.length >= SHORTEST:
        yield Stroke(action.id, action.role, action.cutter, _STYLES[action.kind], curve)


def _screen(ground: Ground, leg: Leg, bar: Bar) -> Stroke:
    """The way to the bar, however short; who stands there already has the bar beside the circle."""
    action = leg.action
    whole = arriving(_points(ground, leg), bar)
    curve = ground.left(whole, action.role)
    if curve.length < STUB:
        curve = _short_way(ground, action.role, bar)
    ground.tips[action.role] = Tip(bar.at, whole.place(whole.length).way, curve.end)
    return Stroke(
        action.id,
        action.role,
        action.cutter,
        Style.SCREEN,
        curve,
        faces=bar.faces,
        gate=gate_part(action),
    )


def _short_way(ground: Ground, role: Role, bar: Bar) -> Curve:
    """Straight from the edge of a circle to a bar beside it."""
    center = ground.circles[role]
    off, way = distance(center, bar.at), direction(center, bar.at)
    begin = min(ground.radius, off - 0.5)
    return line((center[0] + begin * way[0], center[1] + begin * way[1]), bar.at)


def _pass(ground: Ground, leg: Leg, chances: Sequence[LookLane]) -> Iterator[Stroke]:
    action = leg.action
    pair = action.role, action.to
    orders = (one.order for one in chances if (one.look.passer, one.look.receiver) == pair)
    kind = action.pass_kind or PassKind.DIRECT
    curve = flight(ground, pair, (leg.start, leg.end), kind)
    if curve.length > 0:
        bounce, order = kind is PassKind.BOUNCE, next(orders, None)
        yield Stroke(action.id, action.role, action.to, Style.PASS, curve, bounce, order)


def _look(ground: Ground, chance: LookLane) -> Iterator[Stroke]:
    look = chance.look
    pair = look.passer, look.receiver
    curve = flight(ground, pair, (chance.start, chance.end), look.pass_kind, look.at)
    if curve.length > 0:
        bounce = look.pass_kind is PassKind.BOUNCE
        ends = chance.start, chance.end
        yield Stroke(
            look.id, *pair, Style.PASS, curve, bounce, chance.order, kind="look", path=ends
        )


def _points(ground: Ground, leg: Leg) -> list[XY]:
    role = leg.action.role
    start = ground.here(role, leg.start)
    points = [start, *(ground.frame.to(point) for point in leg.points[1:])]
    return detour(points, ground.circles, role, ground.radius)


def _meeting(legs: Sequence[Leg]) -> frozenset[str]:
    """The runs that end in a hand-off, of both who gives and who takes."""
    last: dict[Role, str] = {}
    found = set()
    for leg in legs:
        if leg.action.kind is ActionKind.HANDOFF:
            pair = leg.action.role, leg.action.to
            found |= {last[role] for role in pair if role is not None and role in last}
        elif leg.action.path:
            last[leg.action.role] = leg.action.id
    return frozenset(found)
