"""Readiness over time as a picture: the curve, the line at "ready", practices and game days.

Read in black and white: the curve solid, the ready line dashed, game days upright with their
names, practices small ticks below the axis.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final

from plays.core.drawing.inks import Scheme, inks
from practice.core.instants import days_between
from shared.core.days import day_of_month, day_said
from shared.core.drawing.curves import XY
from shared.core.drawing.fonts import shortened, text_width
from shared.core.drawing.picture import Box, Circle, Paint, Path, Picture, Shape, Step, Text
from shared.core.language import N_, Language
from shared.core.numbers import hundredths

WIDE: Final = 680.0
NARROW: Final = 330.0  # for a phone
HEIGHT: Final = 330.0
LEFT, RIGHT, TOP, BOTTOM = 46.0, 44.0, 56.0, 38.0
ROW: Final = 15.0  # between two rows of names of games
ROWS: Final = 3  # for which there is room; more of them make the picture higher
SIZE: Final = 11.0

TITLE: Final = N_("Readiness of {player} in {play}, role {role}")
SAYS: Final = N_("From {first} to {last}; now {now} %. Dashed: ready from {ready} %.")
READY: Final = N_("ready")
TODAY: Final = N_("today")


@dataclass(frozen=True, slots=True)
class CurvePlot:
    """What is drawn: values from 0 to 1 on moments in order, and what happened when."""

    points: tuple[tuple[datetime, float], ...]
    practices: tuple[datetime, ...]
    games: tuple[tuple[datetime, str], ...]
    now: datetime
    value: float
    ready: float
    player: str
    play: str
    role: str
    width: float = WIDE

    @property
    def top(self) -> float:
        """Where the curve's ground begins, below the names of the games."""
        rows = 1 + max((name.row for name in _names(self)), default=0)
        return TOP + ROW * max(0, rows - ROWS)

    @property
    def height(self) -> float:
        return HEIGHT - TOP + self.top


@dataclass(frozen=True, slots=True)
class GameName:
    """A game's name above its upright: ``left`` to ``right`` in the row, 0 the lowest."""

    said: str
    x: float
    left: float
    right: float
    row: int


def curve_picture(
    plot: CurvePlot, scheme: Scheme, language: Language, *, width: float = WIDE
) -> Picture:
    """Draw the curve ``width`` points wide. Raises ValueError for fewer than two points."""
    if len(plot.points) < 2:
        raise ValueError("a curve needs two points")
    first, last = plot.points[0][0], plot.points[-1][0]
    plot = replace(plot, width=width)
    return Picture(
        width,
        plot.height,
        (
            *_frame(plot, language),
            *_days(plot, language),
            _curve(plot),
            Circle(_at(plot, plot.now, plot.value), 4.5, Paint(fill="own")),
        ),
        language.say(TITLE, player=plot.player, play=plot.play, role=plot.role),
        language.say(
            SAYS,
            first=day_said(first.date(), language),
            last=day_said(last.date(), language),
            now=hundredths(plot.value),
            ready=hundredths(plot.ready),
        ),
        inks(scheme),
        by_class=scheme == "page",
        lang=language.code,
    )


def _at(plot: CurvePlot, moment: datetime, value: float) -> XY:
    return _across(plot, moment), plot.height - BOTTOM - value * (HEIGHT - TOP - BOTTOM)


def _across(plot: CurvePlot, moment: datetime) -> float:
    first, last = plot.points[0][0], plot.points[-1][0]
    share = days_between(first, moment) / max(days_between(first, last), 1e-9)
    return LEFT + share * (plot.width - LEFT - RIGHT)


def _line(start: XY, end: XY, paint: Paint) -> Path:
    return Path((("M", start), ("L", end)), paint)


def _frame(plot: CurvePlot, language: Language) -> list[Shape]:
    first, last = plot.points[0][0], plot.points[-1][0]
    shapes: list[Shape] = []
    for percent in (0, 25, 50, 75, 100):
        left, right = _at(plot, first, percent / 100), _at(plot, last, percent / 100)
        shapes.append(_line(left, right, Paint(stroke="court", width=0.5)))
        shapes.append(Text((LEFT - 6, left[1] + 4), f"{percent} %", SIZE, "quiet", anchor="end"))
    level = _at(plot, first, plot.ready), _at(plot, last, plot.ready)
    shapes.append(_line(*level, Paint(stroke="ink", width=1.0, dash=(5, 4))))
    where = (plot.width - RIGHT + 4, level[1][1] + 4)
    shapes.append(Text(where, language.say(READY), SIZE, "ink"))
    return shapes


def _days(plot: CurvePlot, language: Language) -> list[Shape]:
    shapes: list[Shape] = []
    foot = plot.height - BOTTOM
    for held in plot.practices:
        x = _at(plot, held, 0)[0]
        shapes.append(_line((x, foot), (x, foot + 7), Paint(stroke="ink", width=1.5)))
    shapes += _games(plot)
    x = _at(plot, plot.now, 0)[0]
    shapes.append(_line((x, plot.top), (x, foot), Paint(stroke="quiet", width=0.8, dash=(2, 3))))
    shapes.append(Text((x, plot.height - 6), language.say(TODAY), SIZE, "quiet", anchor="middle"))
    first, last = plot.points[0][0], plot.points[-1][0]
    foot += 20
    begins, ends = (_at(plot, each, 0)[0] for each in (first, last))
    said = day_of_month(first.date(), language)
    shapes.append(Text((begins, foot), said, SIZE, "quiet"))
    said = day_of_month(last.date(), language)
    shapes.append(Text((ends, foot), said, SIZE, "quiet", anchor="end"))
    return shapes


def _games(plot: CurvePlot) -> list[Shape]:
    """An upright for each game with its name above."""
    lines: list[Shape] = []
    names: list[Shape] = []
    for name in _names(plot):
        top = plot.top - 4 - ROW * name.row
        foot = plot.height - BOTTOM
        lines.append(_line((name.x, top), (name.x, foot), Paint(stroke="ink", width=1.2)))
        # On a ground of its own, so that no other game's upright runs through the name.
        wide = name.right - name.left
        ground = Paint(fill="paper")
        names.append(Box((name.left - 2, top - 4 - SIZE), wide + 4, SIZE + 3, ground))
        names.append(Text((name.left, top - 4), name.said, SIZE, "ink", bold=True))
    return lines + names


def _names(plot: CurvePlot) -> list[GameName]:
    """Each game's name in the lowest row that is free there."""
    found: list[GameName] = []
    for moment, name in plot.games:
        x = _across(plot, moment)
        said = shortened(name, SIZE, 150.0, bold=True)
        width = text_width(said, SIZE, bold=True)
        left = min(max(x - width / 2, 4.0), plot.width - 4.0 - width)
        taken = {each.row for each in found if each.right + 6 >= left}
        row = next(n for n in range(len(found) + 1) if n not in taken)
        found.append(GameName(said, x, left, left + width, row))
    return found


def _curve(plot: CurvePlot) -> Path:
    places = [_at(plot, moment, value) for moment, value in plot.points]
    steps: list[Step] = [("M", places[0]), *(("L", place) for place in places[1:])]
    return Path(tuple(steps), Paint(stroke="own", width=2.5))
