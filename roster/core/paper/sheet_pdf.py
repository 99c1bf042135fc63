"""Sheets on paper: a booklet for each player, black on white, good on a copier.

A booklet opens with the calls and the page where each is, what the lines mean, and then the
plays in which the player is first; where they stand in for somebody comes after.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from reportlab.pdfgen.canvas import Canvas

from plays.core.drawing.legend import legend
from roster.core.paper.blocks import Gap, PaperBlock, PictureBox, stack, text
from roster.core.paper.leaf import (
    PAPERS,
    Booklet,
    Edge,
    Laid,
    Passage,
    flow,
    room_of,
    write_booklets,
)
from roster.core.paper.part_block import BODY, SMALL, part_passage
from roster.core.paper.sheet import Sheet, SheetPart
from shared.core.drawing.fonts import shortened, text_width
from shared.core.drawing.pdf import BOLD, REGULAR
from shared.core.drawing.picture import Sink, resized
from shared.core.language import N_, Language

__all__ = ["PAPERS", "write_sheets"]

TITLE: Final = N_("Sheets of {team}")
TITLE_ONE: Final = N_("Sheet of {player}, {team}")
NO_PART: Final = N_("You are in no play yet. Ask your coach.")
CAUTION: Final = N_(
    "Head knock? Stop for the day and tell a coach. "
    "Your club's rules and your coach's word come first."
)
CALLS: Final = N_("Your calls")
FIRST: Final = N_("role {role}")
SECOND: Final = N_("{role}, stand-in")
ON_PAGE: Final = N_("p. {page}")
SMALLER: Final = 0.8  # of the legend, against the diagrams of a page
LINE: Final = 12.5  # from one call to the next


def write_sheets(
    sheets: Iterable[Sheet],
    out: Sink,
    *,
    paper: str,
    club: str,
    language: Language,
    tell: Callable[[int], object] = lambda _: None,
) -> None:
    """Write these sheets, in this order, as one PDF; ``tell`` hears how many are written.

    ``paper`` is a key of PAPERS. Raises KeyError for another, ValueError for no sheet at all.
    """
    made = list(sheets)
    if not made:
        raise ValueError("there is no sheet to write")
    first = made[0]
    title = language.say(TITLE, team=first.team)
    if len(made) == 1:
        title = language.say(TITLE_ONE, player=first.player.name, team=first.team)
    edge = Edge(first.team, first.made_on, club, language.say(CAUTION))
    size = room_of(paper)
    booklets = (booklet(sheet, size, language) for sheet in made)
    write_booklets(booklets, out, edge, title=title, paper=paper, language=language, tell=tell)


def booklet(sheet: Sheet, size: tuple[float, float], language: Language) -> Booklet:
    """One player's pages, on paper with so much room."""
    name = f"{sheet.player.name}  {sheet.player.number}".strip()
    width, height = size
    if not sheet.parts:
        return Booklet(name, flow([Passage((text(language.say(NO_PART), width, 11),))], height))
    ordered = sorted(sheet.parts, key=lambda part: bool(part.stands_in_for))
    opening = Passage(tuple(_opening(sheet, ordered, width, language)))
    plays = [part_passage(part, width, language) for part in ordered]
    leaves = flow([opening, *plays], height)
    pages = {id(each.begins): page for page, leaf in enumerate(leaves, 1) for each in leaf.placed}
    lines = tuple(
        line
        for part, entry in zip(ordered, plays, strict=True)
        for line in _lines(part, pages[id(entry)], language)
    )
    index = _Index(width, lines, language)
    first = leaves[0]
    placed = (Laid(0.0, index), *first.placed[1:])
    return Booklet(name, (replace(first, placed=placed), *leaves[1:]))


def _opening(
    sheet: Sheet, parts: Sequence[SheetPart], width: float, language: Language
) -> Iterator[PaperBlock]:
    """Room for the calls, what the lines mean, and what left and right mean."""
    lines = tuple(line for part in parts for line in _lines(part, 0, language))
    yield Gap(_Index(width, lines, language).height)
    wide = legend(scheme="print", language=language, width=width / SMALLER, emphasis=True)
    yield PictureBox(resized(wide, width))
    notes = list(dict.fromkeys(part.part.note for part in sheet.parts))
    notes = [note for note in notes if not any(note != other and note in other for other in notes)]
    yield stack([*(text(note, width, SMALL) for note in notes), Gap(7)])


@dataclass(frozen=True, slots=True)
class _CallLine:
    """One call of the index."""

    call: str
    role: str
    signal: str
    page: int


def _lines(part: SheetPart, page: int, language: Language) -> Iterator[_CallLine]:
    """A line for every call of a play."""
    said = language.say(SECOND if part.stands_in_for else FIRST, role=part.role)
    yield _CallLine(part.call, said, part.carried.signal, page)
    for other in part.others:
        said = language.say(FIRST, role=other.job(part.role, language))
        yield _CallLine(other.call, said, other.sign, page)


@dataclass(frozen=True, slots=True)
class _Index:
    """The calls with their signals in two columns, and the page of each play."""

    width: float
    lines: tuple[_CallLine, ...]
    language: Language

    @property
    def height(self) -> float:
        return 14 + LINE * -(-len(self.lines) // 2) + 6

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        text("", self.width, 10.5, bold=self.language.say(CALLS)).draw(canvas, x, top)
        rows = -(-len(self.lines) // 2)
        half = (self.width - 20) / 2
        for at, line in enumerate(self.lines):
            left = x + at // rows * (half + 20)
            self._line(canvas, line, left, top - 14 - LINE * (at % rows + 0.8), half)

    def _line(self, canvas: Canvas, line: _CallLine, x: float, y: float, width: float) -> None:
        page = self.language.say(ON_PAGE, page=line.page)
        end = x + width - text_width(page, BODY)
        call = shortened(line.call, BODY, width * 0.4, bold=True)
        canvas.setFont(BOLD, BODY)
        canvas.drawString(x, y, call)
        x += text_width(f"{call}  ", BODY, bold=True)
        said = " · ".join(word for word in (line.role, line.signal) if word)
        canvas.setFont(REGULAR, BODY)
        canvas.drawString(x, y, shortened(said, BODY, end - x - 8))
        canvas.drawString(end, y, page)
