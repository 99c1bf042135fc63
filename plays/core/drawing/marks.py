"""What people, lines and their endings look like: shapes from strokes and places.

Sizes are points. Which line and which ending an action has, and after which source, is said in
``diagram_strokes``.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from math import cos, pi, sin
from typing import Final, Literal

from plays.core.drawing.screens import BAR, bar_ends
from plays.core.drawing.strokes import Stroke, Style
from plays.core.play import Role
from shared.core.drawing.curves import XY, Curve, direction
from shared.core.drawing.fonts import CAP_HEIGHT, text_width
from shared.core.drawing.picture import (
    Box,
    Circle,
    Group,
    Ink,
    Paint,
    Path,
    Shape,
    Step,
    Text,
    lines,
    trace,
)
from shared.core.drawing.wave import wave

Weight = Literal["own", "plain", "quiet"]
"""The emphasised role; everybody where nobody is emphasised; the others where somebody is."""

INKS: Final[dict[Weight, Ink]] = {"own": "own", "plain": "ink", "quiet": "quiet"}
WIDTHS: Final[dict[Weight, float]] = {"own": 3.0, "plain": 1.5, "quiet": 1.2}
LOOK_WIDTHS: Final[dict[Weight, float]] = {"own": 2.2, "plain": 1.2, "quiet": 1.0}
HEADS: Final[dict[Weight, float]] = {"own": 10.0, "plain": 8.0, "quiet": 7.0}

LONGEST_HEAD: Final = 0.65
LONGEST_PASS_HEAD: Final = 0.5
"""An arrowhead takes no more than this share of its line; a pass keeps room for its dashes."""

DASH: Final = (5.2, 3.4)
DOT_PITCH: Final = 4.4
WAVE: Final = (3.1, 9.5, 4.0)
"""Height, pitch and ramp of a dribble."""

LEAD: Final = 4.0
"""A dribble runs straight for so far at both ends."""

BALL: Final = 3.6

NUMBER: Final = 1.22
"""Size of the number in a circle, for a radius of 1."""

CROSS: Final = 9.0
NOTE_SIZE: Final = 12.0

MOMENT_SIZE: Final = 12.0
MOMENT_CORNER: Final = 2.0


def stroke_shapes(stroke: Stroke, weight: Weight) -> Group:
    """A stroke with its ending."""
    ink, width = INKS[weight], WIDTHS[weight]
    if stroke.order is not None:
        width = LOOK_WIDTHS[weight]
    longest = LONGEST_PASS_HEAD if stroke.style is Style.PASS else LONGEST_HEAD
    head = min(HEADS[weight], longest * stroke.curve.length)
    shapes = _drawers(stroke, ink, width, head)
    path = " ".join(f"{x:g},{y:g}" for x, y in stroke.path)
    marks = (
        ("action", stroke.action),
        ("role", stroke.role),
        ("kind", stroke.kind),
        ("path", path),
        ("gate", stroke.gate or ""),
    )
    return Group(tuple(shapes), tuple((name, value) for name, value in marks if value))


def _drawers(stroke: Stroke, ink: Ink, width: float, head: float) -> list[Shape]:
    curve, paint = stroke.curve, Paint(stroke=ink, width=width)
    match stroke.style:
        case Style.SCREEN:
            return [Path(trace(curve), paint), _bar(stroke, ink, width)]
        case Style.HANDOFF:
            return [_two_bars(curve, paint)]
        case Style.PASS:
            bounce = [_bounce(curve, paint)] if stroke.bounce else []
            return [_broken(_shaft(curve, head), ink, width), *bounce, arrowhead(curve, ink, head)]
        case Style.DRIBBLE:
            waved = dribble(_shaft(curve, head))
            return [Path(waved, paint), arrowhead(curve, ink, head)]
        case Style.SHOT:
            return [_dotted(_shaft(curve, head), ink, width), arrowhead(curve, ink, head)]
        case Style.MOVE:
            return [Path(trace(_shaft(curve, head)), paint), arrowhead(curve, ink, head)]


def person(
    role: Role, at: XY, radius: float, *, weight: Weight, ball: XY | None, numbered: bool
) -> Group:
    """A person's circle with the number of the role; ``ball`` is the way to the ball, if held."""
    ink = INKS[weight]
    if weight == "own":
        paint = Paint(stroke="own", fill="own", width=1.6)
    else:
        paint = Paint(stroke=ink, fill="paper" if numbered else ink, width=1.4)
    shapes: list[Shape] = [Circle(at, radius, paint)]
    if numbered:
        shapes.append(number(role, at, radius * NUMBER, "on_own" if weight == "own" else ink))
    if ball is not None:
        center = at[0] + (radius + 1) * ball[0], at[1] + (radius + 1) * ball[1]
        shapes.append(Circle(center, BALL, Paint(stroke="paper", fill=ink, width=1.2)))
    return Group(tuple(shapes), (("role", role), ("part", "person")))


def moment(text: str, at: XY, size: float, ink: Ink = "own") -> Group:
    """A small filled square with the number of a step."""
    width, height = moment_size(text, size)
    plate = Box(
        (at[0] - width / 2, at[1] - height / 2), width, height, Paint(fill=ink), MOMENT_CORNER
    )
    on = "on_own" if ink == "own" else "paper"
    return Group((plate, number(text, at, size, on)), (("part", "moment"),))


def moment_size(text: str, size: float) -> XY:
    """Width and height of a moment's square."""
    side = size * CAP_HEIGHT + 5
    return max(side, text_width(text, size, bold=True) + 4), side


def number(text: str, at: XY, size: float, ink: Ink) -> Text:
    """Figures in bold about a middle."""
    return Text((at[0], at[1] + size * CAP_HEIGHT / 2), text, size, ink, True, "middle")


def defender(
    role: Role, at: XY, side: int, *, note: float = NOTE_SIZE, quiet: bool = False
) -> Group:
    """A cross with the number of the role that is guarded beside it, in size ``note``."""
    ink, arm = "quiet" if quiet else "ink", CROSS / 2
    (x, y) = at
    steps = (
        *lines((x - arm, y - arm), (x + arm, y + arm)),
        *lines((x - arm, y + arm), (x + arm, y - arm)),
    )
    place = x + side * (arm + 1.5), y + note * CAP_HEIGHT / 2 + 1
    guarded = Text(place, role, note, ink, anchor="start" if side > 0 else "end")
    return Group(
        (Path(steps, Paint(stroke=ink, width=1.6)), guarded),
        (("guards", role), ("part", "defender")),
    )


def arrowhead(curve: Curve, ink: Ink, size: float) -> Path:
    """A filled head whose tip is the curve's end and whose notch lies on the curve."""
    tip = curve.end
    notch = curve.place(max(0.0, curve.length - 0.72 * size)).at
    back = curve.place(max(0.0, curve.length - size)).at
    (wx, wy) = direction(back, tip)
    wing = 0.42 * size
    left = back[0] - wing * wy, back[1] + wing * wx
    right = back[0] + wing * wy, back[1] - wing * wx
    return Path(lines(tip, left, notch, right, closed=True), Paint(fill=ink))


def dribble(curve: Curve) -> tuple[Step, ...]:
    """The steps of a dribble: straight, waved, straight."""
    length = curve.length
    if length < 2 * LEAD + WAVE[1]:
        return trace(curve)
    height, pitch, ramp = WAVE
    middle = wave(curve.part(LEAD, length - LEAD), height, pitch, ramp)
    first, last = curve.part(0, LEAD), curve.part(length - LEAD, length)
    return trace(Curve((*first.pieces, *middle.pieces, *last.pieces)))


def rhythm(length: float, dash: tuple[float, float]) -> tuple[float, float]:
    """Dash and gap stretched so that a line of this length begins and ends with a whole dash.

    There are two dashes at least, however short the line.
    """
    on, off = dash
    count = max(2, round((length + off) / (on + off)))
    stretch = length / (count * (on + off) - off)
    return on * stretch, off * stretch


def bar_of(stroke: Stroke) -> tuple[XY, XY]:
    """The ends of a stroke's bar: square to whom it faces, or else to the stroke."""
    at, way = stroke.curve.place(stroke.curve.length)
    return bar_ends(at, stroke.faces or way)


def compass(count: int = 8) -> Iterator[XY]:
    """Unit vectors all round, beginning at the upper right."""
    for k in range(count):
        angle = -pi / 4 + 2 * pi * k / count
        yield cos(angle), sin(angle)


def freest(ways: Iterable[XY], taken: Iterable[XY]) -> XY:
    """Of some directions the one furthest from all that are taken."""
    used = list(taken)
    return min(
        ways,
        key=lambda way: round(max((way[0] * x + way[1] * y for x, y in used), default=-1.0), 6),
    )


def _shaft(curve: Curve, head: float) -> Curve:
    return curve.part(0, curve.length - 0.72 * head)


def _broken(curve: Curve, ink: Ink, width: float) -> Path:
    dash = rhythm(curve.length, DASH)
    return Path(trace(curve), Paint(stroke=ink, width=width, dash=dash, round=False))


def _dotted(curve: Curve, ink: Ink, width: float) -> Path:
    dash = rhythm(curve.length, (0.01, DOT_PITCH))
    return Path(trace(curve), Paint(stroke=ink, width=width + 0.5, dash=dash))


def _bar(stroke: Stroke, ink: Ink, width: float) -> Path:
    bar = Paint(stroke=ink, width=width + 1.2, round=False)
    return Path(lines(*bar_of(stroke)), bar)


def _two_bars(curve: Curve, paint: Paint) -> Path:
    middle = curve.length / 2
    steps: list[Step] = []
    for along in (middle - 1.9, middle + 1.9):
        at, way = curve.place(along)
        steps.extend(lines(*bar_ends(at, way, 0.75 * BAR)))
    return Path(tuple(steps), Paint(stroke=paint.stroke, width=paint.width + 0.4, round=False))


def _bounce(curve: Curve, paint: Paint) -> Circle:
    at, _ = curve.place(0.6 * curve.length)
    return Circle(at, 2.3, Paint(stroke=paint.stroke, fill="paper", width=1.1))
