"""The card for the bench: for up to three fives, the plays that each can run and who does what.

One page, whatever the package: the text grows smaller until everything is on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from reportlab.lib.pagesizes import landscape
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from roster.core.grid_pdf import PAPERS
from shared.core.fonts import text_width
from shared.core.language import N_, Language
from shared.core.pdf import BOLD, REGULAR, register_fonts
from shared.core.picture import Sink

MOST_COLUMNS: Final = 3
MARGIN: Final = 10 * mm
GAP: Final = 8 * mm
HEAD: Final = 12 * mm
LARGEST, SMALLEST = 12.0, 5.0
LINE: Final = 1.3  # of the size

TITLE: Final = N_("Bench card of {team}")
CANNOT: Final = N_("Not this five")
NONE: Final = N_("none")


@dataclass(frozen=True, slots=True)
class BenchPlay:
    """A play that a five can run: the call as they hear it, and "1 Noor · 2 Ida ..."."""

    call: str
    signal: str
    roles: str


@dataclass(frozen=True, slots=True)
class BenchColumn:
    """One five: its name, its people, what it can run, and the calls that it cannot."""

    title: str
    people: str
    plays: tuple[BenchPlay, ...]
    cannot: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Line:
    text: str
    bold: bool
    scale: float
    above: float  # in sizes


def write_bench_card(
    columns: Sequence[BenchColumn],
    out: Sink,
    *,
    team: str,
    made_on: date,
    paper: str,
    language: Language,
) -> None:
    """Write the card as a PDF of one page. Raises KeyError for a paper that is not known."""
    register_fonts()
    size = landscape(PAPERS[paper])
    canvas = Canvas(out, pagesize=size, invariant=1, initialFontName=REGULAR, lang=language.code)
    canvas.setTitle(language.say(TITLE, team=team))
    top = size[1] - MARGIN
    canvas.setFont(BOLD, 13)
    canvas.drawString(MARGIN, top - 11, language.say(TITLE, team=team))
    canvas.setFont(REGULAR, 9)
    canvas.drawRightString(size[0] - MARGIN, top - 11, made_on.isoformat())
    shown = columns[:MOST_COLUMNS]
    width = (size[0] - 2 * MARGIN - GAP * (MOST_COLUMNS - 1)) / MOST_COLUMNS
    height = top - HEAD - MARGIN
    letters = _size_that_fits(shown, width, height, language)
    for index, column in enumerate(shown):
        lines = _lines(column, width, letters, language)
        _draw(canvas, lines, MARGIN + index * (width + GAP), top - HEAD, letters)
    canvas.showPage()
    canvas.save()


def _size_that_fits(
    columns: Sequence[BenchColumn], width: float, height: float, language: Language
) -> float:
    size = LARGEST
    while size > SMALLEST and any(
        _height(_lines(column, width, size, language), size) > height for column in columns
    ):
        size -= 0.25
    return size


def _height(lines: Sequence[_Line], size: float) -> float:
    return sum((line.above + LINE * line.scale) * size for line in lines)


def _lines(column: BenchColumn, width: float, size: float, language: Language) -> list[_Line]:
    made = _wrapped(column.title, width, size, scale=1.15, bold=True, above=0)
    made += _wrapped(column.people, width, size, scale=0.9, bold=False, above=0.1)
    for play in column.plays:
        said = f"{play.call} · {play.signal}" if play.signal else play.call
        made += _wrapped(said, width, size, scale=1.0, bold=True, above=0.6)
        made += _wrapped(play.roles, width, size, scale=0.9, bold=False, above=0.05)
    cannot = language.all_of(column.cannot) if column.cannot else language.say(NONE)
    made += _wrapped(language.say(CANNOT), width, size, scale=0.9, bold=True, above=1.0)
    return made + _wrapped(cannot, width, size, scale=0.9, bold=False, above=0.05)


def _wrapped(
    text: str, width: float, size: float, *, scale: float, bold: bool, above: float
) -> list[_Line]:
    """The text in lines of this width, broken between words."""
    lines: list[str] = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and text_width(longer, size * scale, bold=bold) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return [_Line(line, bold, scale, above if n == 0 else 0.0) for n, line in enumerate(lines)]


def _draw(canvas: Canvas, lines: Sequence[_Line], x: float, top: float, size: float) -> None:
    y = top
    for line in lines:
        y -= (line.above + LINE * line.scale) * size
        canvas.setFont(BOLD if line.bold else REGULAR, size * line.scale)
        canvas.drawString(x, y, line.text)
