"""What the lines of a diagram mean, drawn by the code that draws the diagrams."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from plays.core.drawing.inks import Scheme, inks
from plays.core.drawing.marks import (
    WIDTHS,
    Weight,
    defender,
    moment,
    person,
    stroke_shapes,
)
from plays.core.drawing.strokes import Stroke, Style
from shared.core.drawing.curves import XY, Cubic, Curve, line
from shared.core.drawing.fonts import CAP_HEIGHT, text_width
from shared.core.drawing.picture import (
    Box,
    Group,
    Ink,
    Paint,
    Path,
    Picture,
    Shape,
    Text,
    lines,
    shifted,
)
from shared.core.language import ENGLISH, N_, Language

SAMPLE: Final = 40.0
ROW: Final = 21.0
"""At least; letters of more than 9 points have more."""

GAP: Final = 7.0
COLUMN_GAP: Final = 16.0
SIZE: Final = 9.2
MARGIN: Final = 8.0
RADIUS: Final = 7.5
STEP_SIZE: Final = 9.2
GATE_GAP: Final = 4.0
GATE_TOP: Final = 9.5

TITLE: Final = N_("What the lines mean")
MOVE: Final = N_("run without the ball")
DRIBBLE: Final = N_("dribble")
PASS: Final = N_("pass")
LOB: Final = N_("lob")
BOUNCE: Final = N_("bounce pass")
SCREEN: Final = N_("screen")
HANDOFF: Final = N_("hand-off")
SHOT: Final = N_("shot")
OPENS: Final = N_("gate opens")
CLOSES: Final = N_("gate closes")
HAS_BALL: Final = N_("has the ball")
DEFENDS: Final = N_("defender of 2")
YOURS: Final = N_("you and your lines")
ORDER: Final = N_("order in which it begins")
STEP: Final = N_("your steps in order")

Sample = Callable[[XY], tuple[Shape, ...]]


def legend(
    scheme: Scheme = "light",
    language: Language = ENGLISH,
    *,
    width: float = 360.0,
    size: float = SIZE,
    emphasis: bool = False,
    numbered: bool = False,
    defenders: bool = False,
) -> Picture:
    """The legend, in as many columns as ``width`` points hold, in letters of ``size``.

    ``emphasis`` adds what belongs to one emphasised role, ``numbered`` the
    numbers of moments, ``defenders`` the defender's mark.
    """
    items = [*_LINES, (HAS_BALL, _has_ball)]
    items += [(DEFENDS, _defends)] if defenders else []
    items += [(ORDER, _order)] if numbered else []
    items += [(YOURS, _yours), (STEP, _step)] if emphasis else []
    words = [language.say(text) for text, _ in items]
    widest = SAMPLE + GAP + max(text_width(text, size) for text in words)
    columns = max(1, int((width - 2 * MARGIN + COLUMN_GAP) / (widest + COLUMN_GAP)))
    pitch = (width - 2 * MARGIN + COLUMN_GAP) / columns
    rows = -(-len(items) // columns)
    row = max(ROW, 1.9 * size)
    height = rows * row + MARGIN
    shapes: list[Shape] = [Box((0, 0), width, height, Paint(fill="paper"))]
    for index, ((_, sample), text) in enumerate(zip(items, words, strict=True)):
        at = MARGIN + index // rows * pitch, MARGIN / 2 + (index % rows + 0.5) * row
        shapes.append(_item(sample, text, at, size))
    said = language.say(TITLE)
    return Picture(
        width,
        height,
        tuple(shapes),
        said,
        language.all_of(words),
        inks(scheme),
        by_class=scheme == "page",
        lang=language.code,
    )


def _item(sample: Sample, text: str, at: XY, size: float) -> Group:
    middle = SAMPLE / 2
    drawn = tuple(shifted(shape, at[0], at[1]) for shape in sample((middle, 0.0)))
    place = at[0] + SAMPLE + GAP, at[1] + size * CAP_HEIGHT / 2
    return Group((*drawn, Text(place, text, size, "ink")))


def _line(style: Style, *, weight: Weight = "plain", bounce: bool = False) -> Sample:
    def draw(middle: XY) -> tuple[Shape, ...]:
        curve = line((2.0, middle[1]), (SAMPLE - 2, middle[1]))
        if style is Style.HANDOFF:
            curve = curve.part(curve.length / 2 - 5, curve.length / 2 + 5)
        return (stroke_shapes(Stroke("", "1", None, style, curve, bounce), weight),)

    return draw


def _lob(middle: XY) -> tuple[Shape, ...]:
    (a, b), up = ((2.0, middle[1] + 4), (SAMPLE - 2, middle[1] + 4)), middle[1] - 7
    curve = Curve((Cubic(a, (11.0, up), (SAMPLE - 11, up), b),))
    return (stroke_shapes(Stroke("", "1", None, Style.PASS, curve), "plain"),)


def _gate(part: str) -> Sample:
    """Two bars with a gap that a run goes through; or two that meet, the chaser before them."""

    def draw(middle: XY) -> tuple[Shape, ...]:
        x, y = (16.0, middle[1]) if part == "open" else (19.0, middle[1])
        run = line((1.0 if part == "open" else x, y), (SAMPLE, y))
        gap = GATE_GAP if part == "open" else 0.0
        bar = Paint(stroke="ink", width=WIDTHS["plain"] + 1.2, round=False)
        bars = (*lines((x, y - gap), (x, y - GATE_TOP)), *lines((x, y + gap), (x, y + GATE_TOP)))
        drawn = stroke_shapes(Stroke("", "1", None, Style.MOVE, run), "plain"), Path(bars, bar)
        chaser = defender("2", (x - 8.5, y), -1, note=SIZE).shapes
        return drawn if part == "open" else (*chaser, *drawn)

    return draw


def _has_ball(middle: XY) -> tuple[Shape, ...]:
    way = 0.7071, -0.7071
    return (person("1", middle, RADIUS, weight="plain", ball=way, numbered=True),)


def _defends(middle: XY) -> tuple[Shape, ...]:
    return (defender("2", middle, 1, note=SIZE),)


def _yours(middle: XY) -> tuple[Shape, ...]:
    at = RADIUS + 1.5, middle[1]
    curve = line((at[0] + RADIUS + 2, at[1]), (SAMPLE, at[1]))
    own = person("4", at, RADIUS, weight="own", ball=None, numbered=True)
    return own, stroke_shapes(Stroke("", "4", None, Style.MOVE, curve), "own")


def _step(middle: XY) -> tuple[Shape, ...]:
    return _squares(middle, "own")


def _order(middle: XY) -> tuple[Shape, ...]:
    return _squares(middle, "ink")


def _squares(middle: XY, ink: Ink) -> tuple[Shape, ...]:
    return tuple(
        moment(str(n), (middle[0] + 14 * (n - 2), middle[1]), STEP_SIZE, ink) for n in (1, 2, 3)
    )


_LINES: Final[list[tuple[str, Sample]]] = [
    (MOVE, _line(Style.MOVE)),
    (SCREEN, _line(Style.SCREEN)),
    (OPENS, _gate("open")),
    (CLOSES, _gate("close")),
    (DRIBBLE, _line(Style.DRIBBLE)),
    (PASS, _line(Style.PASS)),
    (BOUNCE, _line(Style.PASS, bounce=True)),
    (LOB, _lob),
    (HANDOFF, _line(Style.HANDOFF)),
    (SHOT, _line(Style.SHOT)),
]
