"""Gates: two screens with one name that open for a cutter and close behind.

An opening gate is two bars in one line with a gap through which the cutter's line runs; a closing
gate is two bars that meet on the cutter's line, square to who chases. So the two are told
apart in black and white. Points of the picture.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from math import copysign
from typing import Final

from plays.core.drawing.ground import Ground
from plays.core.drawing.screens import BAR, FURTHEST, Bar, Passing, clear, passing, shifted_bar
from plays.core.play import Action, ActionKind, JointShape
from plays.core.sequence.course import Leg
from shared.core.drawing.curves import XY, between, nearest, smooth

GAP: Final = 18.0
"""Points left open between the two bars of an opening gate, at least."""


def gate_bars(ground: Ground, legs: Sequence[Leg], guards: Collection[XY]) -> Mapping[str, Bar]:
    """The bars of a phase's gates by the id of the action; ``legs`` are all of the play."""
    found: dict[str, Bar] = {}
    for pair in _pairs(ground.scene.legs):
        runs = [run for leg in pair if (run := passing(legs, leg))]
        if runs:
            bars = _bars(ground, pair, runs[0], guards)
            found.update((leg.action.id, bar) for leg, bar in zip(pair, bars, strict=True))
    return found


def gate_part(action: Action) -> str | None:
    """ "open" or "close" for one of a gate's screens."""
    joint = action.joint
    return joint.part if joint is not None and joint.shape is JointShape.GATE else None


def _pairs(legs: Sequence[Leg]) -> list[tuple[Leg, Leg]]:
    """The two screens of each part of each gate; a gate that one person closes is none."""
    parts: dict[tuple[str, str], list[Leg]] = {}
    for leg in legs:
        joint = leg.action.joint
        if leg.action.kind is ActionKind.SCREEN and joint and joint.shape is JointShape.GATE:
            parts.setdefault((joint.name, joint.part), []).append(leg)
    return [(part[0], part[1]) for part in parts.values() if len(part) == 2]


def _bars(
    ground: Ground, pair: tuple[Leg, Leg], run: Passing, guards: Collection[XY]
) -> tuple[Bar, Bar]:
    faces, opens = (-run.way[0], -run.way[1]), gate_part(pair[0].action) == "open"
    a, b = ground.frame.to(pair[0].end), ground.frame.to(pair[1].end)
    on_line = _on_line(ground, run, between(a, b, 0.5))
    first, second = _offset(a, on_line, faces), _offset(b, on_line, faces)
    side = 1 if first[1] >= second[1] else -1
    places = [((first[0] + second[0]) / 2, sign * BAR / 2) for sign in (side, -side)]
    if opens:
        least = (GAP + BAR) / 2
        places = [
            (first[0], side * max(least, side * first[1])),
            (second[0], -side * max(least, -side * second[1])),
        ]
    home = Bar(on_line, faces)
    for shift, out in [*_moves(outward=opens), (0, 0)]:
        bars = [shifted_bar(home, y + shift, x + copysign(out, x)) for y, x in places]
        if all(clear(ground, bar, guards) for bar in bars):
            break
    return bars[0], bars[1]


def _moves(*, outward: bool) -> list[tuple[int, int]]:
    """Shifts along the cutter's line, the way the cutter goes first, and apart if need be."""
    asides = range(0, 16, 3) if outward else range(1)
    moves = [(shift, out) for shift in range(-FURTHEST, FURTHEST + 1) for out in asides]
    return sorted(moves, key=lambda move: (abs(move[0]) + move[1], move[0]))


def _on_line(ground: Ground, run: Passing, middle: XY) -> XY:
    """The place of the cutter's line nearest to the middle of the gate."""
    points = smooth([ground.frame.to(point) for point in run.leg.points]).flatten(2.0)
    index, _ = nearest(points, middle)
    a, b = points[index], points[index + 1]
    dx, dy = b[0] - a[0], b[1] - a[1]
    square = dx * dx + dy * dy or 1.0
    share = ((middle[0] - a[0]) * dx + (middle[1] - a[1]) * dy) / square
    return between(a, b, min(max(share, 0.0), 1.0))


def _offset(point: XY, origin: XY, faces: XY) -> tuple[float, float]:
    """How far a place lies towards the chaser, and aside, as ``shifted_bar`` counts."""
    dx, dy = point[0] - origin[0], point[1] - origin[1]
    return dx * faces[0] + dy * faces[1], -dx * faces[1] + dy * faces[0]
