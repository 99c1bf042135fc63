"""The key below the count strip: what its signs mean, drawn as they are drawn in it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

from plays.core.drawing.marks import BALL
from shared.core.drawing.fonts import CAP_HEIGHT, text_width
from shared.core.drawing.picture import Box, Circle, Group, Paint, Path, Shape, Text, lines
from shared.core.language import N_, Language

SAMPLE: Final = 26.0
GAP: Final = 5.0
BETWEEN: Final = 16.0
ROW: Final = 17.0
SIZE: Final = 8.8
MARGIN: Final = 4.0

MOVES: Final = N_("on the way")
STANDS: Final = N_("set, stands in the screen")
FLIES: Final = N_("ball from hand to hand")
THERE: Final = N_("look is open")
BOTHERED: Final = N_("contested")
NOT_THERE: Final = N_("covered, or not there yet")
BEST: Final = N_("best moment to throw")
SERIOUS: Final = N_("serious finding")
WARNS: Final = N_("warning")

Sample = Callable[[float, float], tuple[Shape, ...]]


def key_height(width: float, language: Language) -> float:
    """How many points the key takes in this width."""
    rows = {row for row, _, _ in _places(width, language)}
    return ROW * len(rows) + MARGIN


def key_shapes(width: float, top: float, language: Language) -> Iterator[Shape]:
    """The key in as many lines as it takes."""
    for (row, x, words), (_, sample) in zip(_places(width, language), SIGNS, strict=True):
        y = top + (row + 0.5) * ROW
        drawn = sample(x, y)
        place = x + SAMPLE + GAP, y + SIZE * CAP_HEIGHT / 2
        yield Group((*drawn, Text(place, words, SIZE, "ink")), (("part", "key"),))


def _places(width: float, language: Language) -> Iterator[tuple[int, float, str]]:
    row, x = 0, MARGIN
    for text, _ in SIGNS:
        words = language.say(text)
        wide = SAMPLE + GAP + text_width(words, SIZE)
        if x > MARGIN and x + wide > width - MARGIN:
            row, x = row + 1, MARGIN
        yield row, x, words
        x += wide + BETWEEN


def _moves(x: float, y: float) -> tuple[Shape, ...]:
    return (Box((x, y - 5), SAMPLE, 10, Paint(fill="ink"), 2.0),)


def _stands(x: float, y: float) -> tuple[Shape, ...]:
    body = Box((x + 2, y - 5), SAMPLE - 2, 10, Paint(stroke="ink", fill="paper", width=1.2))
    stroke = Paint(stroke="ink", width=3.2, round=False)
    return body, Path(lines((x + 2, y - 7.5), (x + 2, y + 7.5)), stroke)


def _flies(x: float, y: float) -> tuple[Shape, ...]:
    dash = Paint(stroke="ink", width=1.3, dash=(4.0, 2.6), round=False)
    ball = Paint(stroke="paper", fill="ink", width=1.2)
    begin, end = (x + 3, y), (x + SAMPLE - 3, y)
    return Path(lines(begin, end), dash), Circle(begin, BALL, ball), Circle(end, BALL, ball)


def _window(*, full: bool = False, dash: bool = False, stripe: bool = False) -> Sample:
    def draw(x: float, y: float) -> tuple[Shape, ...]:
        broken = (3.0, 2.0) if dash else None
        paint = Paint(stroke="own", fill="own" if full else "paper", width=1.4, dash=broken)
        box = Box((x + 1, y - 5), SAMPLE - 2, 10, paint, 2.0)
        thick = Paint(stroke="own", width=3.0, round=False)
        line = Path(lines((x + 1, y + 5), (x + SAMPLE - 1, y + 5)), thick)
        return (box, line) if stripe else (box,)

    return draw


def _best(x: float, y: float) -> tuple[Shape, ...]:
    x += SAMPLE / 2
    steps = lines((x, y - 4), (x + 4, y), (x, y + 4), (x - 4, y), closed=True)
    return (Path(steps, Paint(fill="ink")),)


def _serious(x: float, y: float) -> tuple[Shape, ...]:
    return (Box((x + SAMPLE / 2 - 3.6, y - 3.6), 7.2, 7.2, Paint(fill="bad")),)


def _warns(x: float, y: float) -> tuple[Shape, ...]:
    x += SAMPLE / 2
    steps = lines((x, y - 4.4), (x + 4.6, y + 3.6), (x - 4.6, y + 3.6), closed=True)
    return (Path(steps, Paint(fill="warn")),)


SIGNS: Final[tuple[tuple[str, Sample], ...]] = (
    (MOVES, _moves),
    (STANDS, _stands),
    (FLIES, _flies),
    (THERE, _window(full=True)),
    (BOTHERED, _window(stripe=True)),
    (NOT_THERE, _window(dash=True)),
    (BEST, _best),
    (SERIOUS, _serious),
    (WARNS, _warns),
)
