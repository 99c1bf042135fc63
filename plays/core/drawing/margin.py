"""The margin of a look with its band, as a small picture: left the defence is first, right the
ball. The band is what a changed reaction or reach makes of it."""

from __future__ import annotations

from typing import Final

from plays.core.defence.verdict import CONTESTED, OPEN, Verdict
from plays.core.drawing.inks import Scheme, inks
from shared.core.drawing.picture import Box, Circle, Group, Paint, Path, Picture, Shape, lines
from shared.core.language import ENGLISH, N_, Language

WIDTH: Final = 150.0
HEIGHT: Final = 22.0
MOST: Final = 1.0  # seconds at either end
EDGE: Final = 8.0

TITLE: Final = N_("Margin {margin} s, between {low} and {high} s")
SAYS: Final = N_("Right of the thick stroke the ball is first; past the broken one it is open.")


def margin_picture(
    verdict: Verdict, *, scheme: Scheme = "light", language: Language = ENGLISH
) -> Picture:
    """From a second too late to a second to spare; what lies beyond stands at the edge."""
    middle = HEIGHT / 2

    def x(seconds: float) -> float:
        share = (min(max(seconds, -MOST), MOST) + MOST) / (2 * MOST)
        return EDGE + share * (WIDTH - 2 * EDGE)

    low, high = x(verdict.low), x(verdict.high)
    ink = "own" if verdict.margin >= CONTESTED else "ink"
    axis = Paint(stroke="court", width=1)
    zero = Paint(stroke="ink", width=2, round=False)
    open_ = Paint(stroke="quiet", width=1.2, dash=(2, 2), round=False)
    dot = Paint(stroke="paper", fill=ink, width=1.4)
    shapes: tuple[Shape, ...] = (
        Path(lines((EDGE, middle), (WIDTH - EDGE, middle)), axis),
        Path(lines((x(0), 3), (x(0), HEIGHT - 3)), zero),
        Path(lines((x(OPEN), 3), (x(OPEN), HEIGHT - 3)), open_),
        Box((low, middle - 3), max(high - low, 1.0), 6, Paint(stroke=ink, fill="paper", width=1.2)),
        Circle((x(verdict.margin), middle), 4.2, dot),
    )
    number = language.number
    title = language.say(
        TITLE,
        margin=number(verdict.margin, 2),
        low=number(verdict.low, 2),
        high=number(verdict.high, 2),
    )
    return Picture(
        WIDTH,
        HEIGHT,
        (Group(shapes, (("part", "margin"),)),),
        title,
        language.say(SAYS),
        inks(scheme),
        by_class=scheme == "page",
        lang=language.code,
    )
