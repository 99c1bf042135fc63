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

from roster.core.paper.blocks import text
from roster.core.paper.grid_pdf import PAPERS
from roster.core.paper.leaf import PAGE_OF, SMALL
from shared.core.days import day_said
from shared.core.drawing.fonts import text_width
from shared.core.drawing.pdf import BOLD, REGULAR, register_fonts
from shared.core.drawing.picture import Sink
from shared.core.language import N_, Language

MOST_COLUMNS: Final = 3
MARGIN: Final = 10 * mm
GAP: Final = 8 * mm
HEAD: Final = 12 * mm
LARGEST, SMALLEST = 12.0, 4.0
ROOMY_FROM: Final = 7.5  # the size below which call and roles share a line, without the signal
LINE: Final = 1.3  # of the size

TITLE: Final = N_("Bench card of {team}")
CANNOT: Final = N_("Not this five")
NONE: Final = N_("none")


@dataclass(frozen=True, slots=True)
class BenchPlay:
    """A play that a five can run: the call as they hear it, and "1 Noor · 2 Ida ...".

    ``head`` stands above it where a group of plays begins, ``note`` under it.
    """

    call: str
    signal: str
    roles: str
    others: tuple[tuple[str, str], ...] = ()  # further calls with their signals
    head: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class BenchColumn:
    """One five: its name, its people, what it can run, and the calls that it cannot."""

    title: str
    people: str
    plays: tuple[BenchPlay, ...]
    cannot: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Line:
    """Words, the first of them bold; ``above`` and ``scale`` are in sizes of the text."""

    bold: str
    plain: str
    scale: float
    above: float


def write_bench_card(
    columns: Sequence[BenchColumn],
    out: Sink,
    *,
    team: str,
    made_on: date,
    paper: str,
    language: Language,
    plays: str = "",
    title: str = "",
) -> None:
    """Write the card as a PDF of one page. Raises KeyError for a paper that is not known.

    ``plays`` says as of when each play is shown; ``title`` stands at the head instead of ours.
    """
    register_fonts()
    size = landscape(PAPERS[paper])
    canvas = Canvas(out, pagesize=size, invariant=1, initialFontName=REGULAR, lang=language.code)
    title = title or language.say(TITLE, team=team)
    canvas.setTitle(title)
    top = size[1] - MARGIN
    canvas.setFont(BOLD, 13)
    canvas.drawString(MARGIN, top - 11, title)
    canvas.setFont(REGULAR, 9)
    canvas.drawRightString(size[0] - MARGIN, top - 11, day_said(made_on, language))
    shown = columns[:MOST_COLUMNS]
    width = (size[0] - 2 * MARGIN - GAP * (MOST_COLUMNS - 1)) / MOST_COLUMNS
    height = top - HEAD - MARGIN - 4
    letters, roomy = _size_that_fits(shown, width, height, language)
    for index, column in enumerate(shown):
        lines = _lines(column, width, letters, language, roomy=roomy)
        _draw(canvas, lines, MARGIN + index * (width + GAP), top - HEAD, letters)
    page = language.say(PAGE_OF, page=1, pages=1)
    canvas.setFont(REGULAR, SMALL)
    canvas.drawRightString(size[0] - MARGIN, MARGIN / 2, page)
    foot = text(plays, size[0] - 2 * MARGIN - 60, SMALL)
    foot.draw(canvas, MARGIN, MARGIN / 2 + foot.height - 2)
    canvas.showPage()
    canvas.save()


def _size_that_fits(
    columns: Sequence[BenchColumn], width: float, height: float, language: Language
) -> tuple[float, bool]:
    """The largest size at which every column fits, and whether roles have lines of their own."""
    for roomy, least in ((True, ROOMY_FROM), (False, SMALLEST)):
        size = LARGEST
        while size >= least:
            tallest = max(
                (_height(_lines(c, width, size, language, roomy=roomy), size) for c in columns),
                default=0.0,
            )
            if tallest <= height:
                return size, roomy
            size -= 0.25
    return SMALLEST, False


def _height(lines: Sequence[_Line], size: float) -> float:
    return sum((line.above + LINE * line.scale) * size for line in lines)


def _lines(
    column: BenchColumn, width: float, size: float, language: Language, *, roomy: bool
) -> list[_Line]:
    def put(bold: str, plain: str = "", scale: float = 1.0, above: float = 0.0) -> None:
        if not bold and not plain:
            return
        made.extend(_wrapped(bold, plain, width, size, scale=scale, above=above))

    made: list[_Line] = []
    put(column.title, scale=1.15)
    put("", column.people, 0.9, 0.1)
    for play in column.plays:
        put(play.head, scale=0.95, above=0.8)
        if roomy:
            for n, (call, signal) in enumerate(((play.call, play.signal), *play.others)):
                put(f"{call} · {signal}" if signal else call, above=0.0 if n else 0.6)
            put("", play.roles, 0.9, 0.05)
        else:
            calls = [play.call, *(call for call, _ in play.others)]
            put(" / ".join(calls), play.roles, above=0.2)
        put("", play.note, 0.8, 0.05)
    put(language.say(CANNOT), scale=0.9, above=1.0)
    put("", language.all_of(column.cannot) if column.cannot else language.say(NONE), 0.9, 0.05)
    return made


def _wrapped(
    bold: str, plain: str, width: float, size: float, *, scale: float, above: float
) -> list[_Line]:
    """The words in lines of this width, broken between words; the bold ones come first."""
    words = [(word, True) for word in bold.split()] + [(word, False) for word in plain.split()]
    lines: list[list[tuple[str, bool]]] = [[]]
    for word in words:
        if lines[-1] and _width([*lines[-1], word], size * scale) > width:
            lines.append([word])
        else:
            lines[-1].append(word)
    return [
        _Line(_part(line, bold=True), _part(line, bold=False), scale, above if n == 0 else 0.0)
        for n, line in enumerate(lines)
    ]


def _part(line: Sequence[tuple[str, bool]], *, bold: bool) -> str:
    return " ".join(word for word, is_bold in line if is_bold == bold)


def _width(line: Sequence[tuple[str, bool]], size: float) -> float:
    bold, plain = _part(line, bold=True), _part(line, bold=False)
    return text_width(f"{bold}  ", size, bold=True) + text_width(plain, size)


def _draw(canvas: Canvas, lines: Sequence[_Line], x: float, top: float, size: float) -> None:
    y = top
    for line in lines:
        y -= (line.above + LINE * line.scale) * size
        left, letters = x, size * line.scale
        if line.bold:
            canvas.setFont(BOLD, letters)
            canvas.drawString(left, y, line.bold)
            left += text_width(f"{line.bold}  ", letters, bold=True)
        if line.plain:
            canvas.setFont(REGULAR, letters)
            canvas.drawString(left, y, line.plain)
