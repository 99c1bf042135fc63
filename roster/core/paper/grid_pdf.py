"""The cast of a whole package on one landscape page: plays by roles, three depths.

Forty plays fit on a page; more go on to the next. Whoever is out is struck through, and who
steps in stands in bold with an arrow, so that it reads on a photocopy.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from reportlab.lib.pagesizes import A4, LETTER, landscape
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from plays.core.play import ROLES
from shared.core.days import day_said
from shared.core.drawing.fonts import shortened, text_width
from shared.core.drawing.pdf import BOLD, REGULAR, on_paper, register_fonts
from shared.core.drawing.picture import Sink
from shared.core.language import N_, Language

PAPERS: Final = {"a4": A4, "letter": LETTER}
ROWS_ON_A_PAGE: Final = 40
MARGIN: Final = 10 * mm
HEAD: Final = 12 * mm
FOOT: Final = 8 * mm
CALL_WIDTH: Final = 42 * mm
TALLEST: Final = 15 * mm
STACKED_FROM: Final = 29.0  # points of row height from which three names stand in three lines

TITLE: Final = N_("Cast of {team}")
PLAY: Final = N_("Play")
ROLE: Final = N_("Role {role}")
HOLE: Final = N_("nobody")
KEY: Final = N_("First / second / third. Struck through: out. Arrow: steps in.")


@dataclass(frozen=True, slots=True)
class GridName:
    """A name in a cell; ``name`` is empty where nobody is."""

    name: str
    is_out: bool = False
    steps_in: bool = False


@dataclass(frozen=True, slots=True)
class GridLine:
    """One play: its call, its name, and for each role the names by depth."""

    call: str
    play: str
    cells: tuple[tuple[GridName, ...], ...]


@dataclass(frozen=True, slots=True)
class GridSheet:
    """What stands on the page: the team, the day it was made, a line for each play."""

    team: str
    made_on: date
    lines: tuple[GridLine, ...]


def write_grid(sheet: GridSheet, out: Sink, *, paper: str, language: Language) -> None:
    """Write the grid as a PDF. Raises KeyError for a paper that is not in PAPERS."""
    register_fonts()
    size = landscape(PAPERS[paper])
    canvas = Canvas(out, pagesize=size, invariant=1, initialFontName=REGULAR, lang=language.code)
    canvas.setTitle(language.say(TITLE, team=sheet.team))
    pages = range(0, max(1, len(sheet.lines)), ROWS_ON_A_PAGE)
    for first in pages:
        lines = sheet.lines[first : first + ROWS_ON_A_PAGE]
        _Page(canvas, size, language).draw(sheet, lines)
        canvas.showPage()
    canvas.save()


class _Page:
    """Draws one page; measures in points from the lower left, as PDF does."""

    def __init__(self, canvas: Canvas, size: tuple[float, float], language: Language) -> None:
        self.canvas, self.language = canvas, language
        self.width, self.height = size
        self.column = (self.width - 2 * MARGIN - CALL_WIDTH) / len(ROLES)

    def draw(self, sheet: GridSheet, lines: Sequence[GridLine]) -> None:
        top = self.height - MARGIN
        self._text(MARGIN, top - 11, self.language.say(TITLE, team=sheet.team), 13, bold=True)
        self.canvas.setFont(REGULAR, 9)
        day = day_said(sheet.made_on, self.language)
        self.canvas.drawRightString(self.width - MARGIN, top - 11, day)
        self._text(MARGIN, MARGIN - 2, self.language.say(KEY), 7.5)
        below = top - HEAD
        room = below - MARGIN - FOOT - 14
        row = min(TALLEST, room / max(1, len(lines)))
        self._headings(below - 12)
        for number, line in enumerate(lines):
            self._row(line, below - 16 - number * row, row)

    def _headings(self, y: float) -> None:
        self._text(MARGIN, y, self.language.say(PLAY), 8, bold=True)
        for index, role in enumerate(ROLES):
            said = self.language.say(ROLE, role=role)
            self._text(self._left(index), y, said, 8, bold=True)
        self.canvas.setLineWidth(1)
        self.canvas.line(MARGIN, y - 4, self.width - MARGIN, y - 4)

    def _row(self, line: GridLine, top: float, height: float) -> None:
        size = min(10.0, height * 0.62)
        base = top - height / 2 - size * 0.36
        if height >= STACKED_FROM:
            self._text(MARGIN, top - 13, line.call, 10, bold=True, width=CALL_WIDTH - 6)
            self._text(MARGIN, top - 24, line.play, 7.5, width=CALL_WIDTH - 6)
        else:
            self._text(MARGIN, base, line.call, size, bold=True, width=CALL_WIDTH - 6)
        for index, names in enumerate(line.cells):
            if height >= STACKED_FROM:
                self._stacked(names, self._left(index), top, height)
            else:
                self._in_line(names, self._left(index), base, size)
        self.canvas.setLineWidth(0.3)
        self.canvas.line(MARGIN, top - height, self.width - MARGIN, top - height)

    def _stacked(self, names: Sequence[GridName], left: float, top: float, height: float) -> None:
        step = (height - 4) / 3
        for depth, name in enumerate(names):
            size = 9.5 if depth == 0 else 8
            y = top - 2 - (depth + 0.78) * step
            if name.name or depth == 0:
                self._name(name, left, y, size, self.column - 6, first=depth == 0)

    def _in_line(self, names: Sequence[GridName], left: float, y: float, size: float) -> None:
        """All depths in one line, smaller until they fit."""
        known = [name for index, name in enumerate(names) if name.name or index == 0]
        wanted = sum(text_width(self._said(n), size, bold=True) for n in known)
        wanted += size * sum(n.steps_in for n in known)
        wanted += text_width(" / ", size) * (len(known) - 1)
        size *= min(1.0, (self.column - 6) / max(1.0, wanted))
        for index, name in enumerate(known):
            if index:
                left = self._text(left, y, " / ", size)
            left = self._name(name, left, y, size, self.column, first=index == 0)

    def _name(
        self, name: GridName, left: float, y: float, size: float, width: float, *, first: bool
    ) -> float:
        if name.steps_in:
            left = self._arrow(left, y + size * 0.33, size)
        said = shortened(self._said(name), size, width - (size if name.steps_in else 0), bold=True)
        bold = (first and not name.is_out) or name.steps_in
        end = self._text(left, y, said, size, bold=bold)
        if name.is_out:
            self.canvas.setLineWidth(0.7)
            self.canvas.line(left, y + size * 0.33, end, y + size * 0.33)
        return end

    def _arrow(self, left: float, y: float, size: float) -> float:
        """An arrow, which the typeface does not have; returns where the name begins."""
        end, wing = left + 0.75 * size, 0.2 * size
        self.canvas.setLineWidth(0.09 * size)
        self.canvas.lines(
            [(left, y, end, y), (end - wing, y + wing, end, y), (end - wing, y - wing, end, y)]
        )
        return left + size

    def _said(self, name: GridName) -> str:
        return name.name or self.language.say(HOLE)

    def _text(
        self,
        x: float,
        y: float,
        text: str,
        size: float,
        *,
        bold: bool = False,
        width: float | None = None,
    ) -> float:
        """Draw one line; returns where it ends."""
        said = text if width is None else shortened(text, size, width, bold=bold)
        self.canvas.setFillColor(on_paper("ink"))
        self.canvas.setFont(BOLD if bold else REGULAR, size)
        self.canvas.drawString(x, y, said)
        return x + text_width(said, size, bold=bold)

    def _left(self, index: int) -> float:
        return float(MARGIN + CALL_WIDTH + index * self.column)
