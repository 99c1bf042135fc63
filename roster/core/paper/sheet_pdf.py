"""Sheets on paper: a booklet for each player, black on white, good on a copier.

A booklet opens with the calls and the page where each is. The plays in which the player is first
come before those in which they stand in for somebody, as far as that costs no page; what the
lines mean stands where there is room.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from reportlab.pdfgen.canvas import Canvas

from plays.core.drawing.legend import TITLE as TITLE_OF_LEGEND
from plays.core.drawing.legend import legend
from roster.core.paper.blocks import (
    BASELINE,
    Gap,
    PaperBlock,
    PictureBox,
    Rule,
    column_width,
    columns,
    stack,
    text,
)
from roster.core.paper.leaf import (
    PAPERS,
    Booklet,
    Edge,
    Laid,
    Passage,
    fewest,
    flow,
    room_of,
    write_booklets,
)
from roster.core.paper.part_block import AIR, BODY, part_passage
from roster.core.paper.sheet import Sheet, SheetPart
from shared.core.drawing.fonts import text_width
from shared.core.drawing.pdf import REGULAR
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
# Of the samples in the legend, against the diagrams of a page; its words are not smaller.
SMALLER: Final = 0.8
BETWEEN_CALLS: Final = 1.0
INDEX_GAP: Final = 20.0
MANY: Final = 88  # the widest page number


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
    plays = [part_passage(part, sheet.made_on, width, language) for part in ordered]
    meaning = Passage((_meaning(width, language),))
    notes = _notes(sheet, width)

    def opening(pages: Mapping[int, int]) -> PaperBlock:
        """The calls with the page of each entry, by its id; as high for any pages."""
        found = zip(ordered, plays, strict=True)
        lines = [
            line for part, play in found for line in _lines(part, pages.get(id(play), 0), language)
        ]
        lines.append(_CallLine(language.say(TITLE_OF_LEGEND), "", "", pages.get(id(meaning), 0)))
        return stack((*_index(lines, width, language), *notes, Gap(7)))

    entries = [Passage((Gap(opening({}).height),)), *plays, meaning]
    # The air under the last entry of a page may go over its edge.
    leaves = fewest(entries, height + AIR)
    pages = {id(each.begins): page for page, leaf in enumerate(leaves, 1) for each in leaf.placed}
    first, *others = leaves
    placed = (Laid(0.0, opening(pages)), *first.placed[1:])
    return Booklet(name, (replace(first, placed=placed), *others))


def _meaning(width: float, language: Language) -> PaperBlock:
    """What the lines of the diagrams mean: once in a booklet, where there is room for it."""
    size = BODY / SMALLER
    wide = legend(
        scheme="print", language=language, width=width / SMALLER, size=size, emphasis=True
    )
    title = text("", width, BODY, bold=language.say(TITLE_OF_LEGEND))
    return stack((Rule(width, 1.4, 2), title, PictureBox(resized(wide, width)), Gap(AIR)))


def _notes(sheet: Sheet, width: float) -> list[PaperBlock]:
    """What near and far, left and right mean, each once."""
    notes = list(dict.fromkeys(part.part.note for part in sheet.parts))
    notes = [note for note in notes if not any(note != other and note in other for other in notes)]
    return [text(note, width, BODY) for note in notes]


@dataclass(frozen=True, slots=True)
class _CallLine:
    """One line of the index."""

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


def _index(lines: Iterable[_CallLine], width: float, language: Language) -> Iterator[PaperBlock]:
    """The calls with their signals in two columns, and the page of each play."""
    yield text("", width, 10.5, bold=language.say(CALLS))
    half = column_width(width, 2, INDEX_GAP)
    widest = text_width(language.say(ON_PAGE, page=MANY), BODY)
    made = [_IndexRow(line, half, half - widest, language) for line in lines]
    yield columns(made, 2, width, INDEX_GAP)
    yield Gap(6)


@dataclass(frozen=True, slots=True)
class _IndexRow:
    """A call, what goes with it, and its page at the right."""

    line: _CallLine
    width: float
    inside: float
    language: Language

    @property
    def height(self) -> float:
        return self._words().height + BETWEEN_CALLS

    def _words(self) -> PaperBlock:
        words = " · ".join(word for word in (self.line.role, self.line.signal) if word)
        return text(words, self.inside - 8, BODY, bold=self.line.call)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        self._words().draw(canvas, x, top)
        canvas.setFont(REGULAR, BODY)
        page = self.language.say(ON_PAGE, page=self.line.page)
        canvas.drawRightString(x + self.width, top - BASELINE * BODY, page)
