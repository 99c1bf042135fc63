"""The margin of a look as a small picture: left the defence is first, right the ball.

The bar, where there is one, holds nine draws in ten of all uncertain numbers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from plays.core.check.bands import Band
from plays.core.defence.verdict import CONTESTED, OPEN, Verdict
from plays.core.drawing.inks import Scheme, inks
from shared.core.drawing.picture import Box, Circle, Group, Ink, Paint, Path, Picture, Shape, lines
from shared.core.language import ENGLISH, N_, Language

WIDTH: Final = 150.0
HEIGHT: Final = 22.0
MOST: Final = 1.0  # seconds at either end
EDGE: Final = 8.0

TITLE: Final = N_("Margin {margin} s")
BANDED: Final = N_("Margin {margin} s, between {low} and {high} s in nine of ten trials")
SAYS: Final = N_("Right of the thick stroke the ball is first; past the broken one it is open.")


def margin_picture(
    verdict: Verdict,
    band: Band | None = None,
    *,
    scheme: Scheme = "light",
    language: Language = ENGLISH,
) -> Picture:
    """From a second too late to a second to spare; what lies beyond stands at the edge."""
    middle = HEIGHT / 2

    def x(seconds: float) -> float:
        share = (min(max(seconds, -MOST), MOST) + MOST) / (2 * MOST)
        return EDGE + share * (WIDTH - 2 * EDGE)

    margin = verdict.margin if band is None else band.median
    ink = "own" if margin >= CONTESTED else "ink"
    axis = Paint(stroke="court", width=1)
    zero = Paint(stroke="ink", width=2, round=False)
    open_ = Paint(stroke="quiet", width=1.2, dash=(2, 2), round=False)
    dot = Paint(stroke="paper", fill=ink, width=1.4)
    shapes: tuple[Shape, ...] = (
        Path(lines((EDGE, middle), (WIDTH - EDGE, middle)), axis),
        Path(lines((x(0), 3), (x(0), HEIGHT - 3)), zero),
        Path(lines((x(OPEN), 3), (x(OPEN), HEIGHT - 3)), open_),
        *_bar(band, x, middle, ink),
        Circle((x(margin), middle), 4.2, dot),
    )
    number = language.number
    title = language.say(TITLE, margin=number(margin, 2))
    if band is not None:
        slots = {"low": number(band.low, 2), "high": number(band.high, 2)}
        title = language.say(BANDED, margin=number(margin, 2), **slots)
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


def _bar(
    band: Band | None, x: Callable[[float], float], middle: float, ink: Ink
) -> Iterator[Shape]:
    if band is not None:
        low, high = x(band.low), x(band.high)
        paint = Paint(stroke=ink, fill="paper", width=1.2)
        yield Box((low, middle - 3), max(high - low, 1.0), 6, paint)
