"""Pages made of blocks: what stands at their edges, and who begins on which of them.

A booklet is somebody's pages. Printed on both sides of the paper each begins on the front of a
leaf, so an empty back may follow it; its pages are counted by themselves, "page 2 of 6".
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Final

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from roster.core.paper.blocks import Gap, PaperBlock, Shrunk, text
from roster.core.paper.packing import packed
from shared.core.days import day_said, moment_said
from shared.core.drawing.fonts import shortened, text_width
from shared.core.drawing.pdf import BOLD, REGULAR, on_paper, register_fonts
from shared.core.drawing.picture import Sink
from shared.core.language import N_, Language

PAPERS: Final = {"a4": A4, "letter": LETTER}
MARGIN: Final = 11 * mm
HEAD: Final = 14.5 * mm
FOOT: Final = 12 * mm
SMALL: Final = 7.5

PAGE_OF: Final = N_("page {page} of {pages}")
AS_OF: Final = N_("{play}, as of {day}")
ALL_AS_OF: Final = N_("As of {day}: {plays}")

Dated = tuple[str, str]  # a play by its name, and as of when it is shown, in words


NOTHING: Final = Gap(0)


def as_of(published: datetime, made_on: date, language: Language) -> str:
    """The day a play was published, in words; on a paper of that very day the time as well.

    So two papers of one day tell themselves apart where the play was published between them.
    """
    say = moment_said if published.date() == made_on else day_said
    return say(published, language)


def all_as_of(plays: Iterable[Dated], language: Language) -> str:
    """As of when each play is shown, by its name, once each, those of a day together."""
    named: dict[str, dict[str, None]] = {}
    for name, day in plays:
        named.setdefault(day, {})[name] = None
    return " · ".join(
        language.say(ALL_AS_OF, day=day, plays=", ".join(names)) for day, names in named.items()
    )


@dataclass(frozen=True, slots=True)
class Passage:
    """What stands together on one page where it can, such as a play.

    No row is broken; where the rows go on over the page, ``again`` stands before them.
    """

    rows: tuple[PaperBlock, ...]
    again: PaperBlock = NOTHING
    bookmark: str = ""
    plays: tuple[Dated, ...] = ()


@dataclass(frozen=True, slots=True)
class Laid:
    """A block so far below the top of the page's inside; ``begins`` where an entry does."""

    below: float
    block: PaperBlock
    begins: Passage | None = None


@dataclass(frozen=True, slots=True)
class Leaf:
    """The inside of one page, and the plays on it."""

    placed: tuple[Laid, ...] = ()
    plays: tuple[Dated, ...] = ()


@dataclass(frozen=True, slots=True)
class Booklet:
    """Pages that belong together under one name."""

    name: str
    leaves: tuple[Leaf, ...]


@dataclass(frozen=True, slots=True)
class Edge:
    """What stands at the edges of every page: head right, foot, and a sentence of caution."""

    team: str
    made_on: date
    club: str = ""
    caution: str = ""


def room_of(paper: str) -> tuple[float, float]:
    """Width and height of a page's inside. Raises KeyError for a paper that is not known."""
    width, height = _size(paper, lying=False)
    return width - 2 * MARGIN, height - HEAD - FOOT


def flow(entries: Iterable[Passage], height: float) -> tuple[Leaf, ...]:
    """The entries on as few pages as their order allows: a short one fills an earlier gap.

    Only an entry that is higher than a page goes on over its end.
    """
    pages: list[_Filling] = []
    for entry in entries:
        whole = sum(row.height for row in entry.rows)
        page = next((page for page in pages if page.used + whole <= height), None)
        if page is None:
            pages.append(page := _Filling(height))
        for number, row in enumerate(entry.rows):
            if page.used and page.used + row.height > height:
                pages.append(page := _Filling(height))
                if entry.again.height + row.height <= height:
                    page.put(entry.again, entry)
            page.put(row, entry, begins=not number)
    return tuple(page.leaf() for page in pages)


def fewest(entries: Sequence[Passage], height: float) -> tuple[Leaf, ...]:
    """The entries on as few pages as can be, near their order; the first on the first page."""
    heights = [sum(row.height for row in entry.rows) for entry in entries]
    pages = packed(heights, height)
    return tuple(leaf for page in pages for leaf in flow([entries[n] for n in page], height))


class _Filling:
    """A page that is being filled."""

    def __init__(self, height: float) -> None:
        self.height, self.used = height, 0.0
        self.placed: list[Laid] = []
        self.plays: dict[Dated, None] = {}

    def put(self, row: PaperBlock, entry: Passage, *, begins: bool = False) -> None:
        block: PaperBlock = row if row.height <= self.height else Shrunk(row, self.height)
        self.placed.append(Laid(self.used, block, entry if begins else None))
        self.used += block.height
        self.plays.update(dict.fromkeys(entry.plays))

    def leaf(self) -> Leaf:
        return Leaf(tuple(self.placed), tuple(self.plays))


def write_booklets(
    booklets: Iterable[Booklet],
    out: Sink,
    edge: Edge,
    *,
    title: str,
    paper: str,
    language: Language,
    tell: Callable[[int], object] = lambda _: None,
    fronts: bool = True,
    lying: bool = False,
) -> None:
    """Write booklets as one PDF with a bookmark for each, and one for each entry in it.

    With ``fronts`` every booklet begins on an odd page. ``tell`` hears after each how many are
    written.
    """
    register_fonts()
    size = _size(paper, lying=lying)
    canvas = Canvas(out, pagesize=size, invariant=1, initialFontName=REGULAR, lang=language.code)
    canvas.setTitle(title)
    canvas.setAuthor(edge.club)
    for count, booklet in enumerate(booklets, start=1):
        if fronts and canvas.getPageNumber() % 2 == 0:
            canvas.showPage()
        _Press(canvas, size, edge, language).put(booklet)
        tell(count)
    canvas.save()


class _Press:
    """Draws a booklet's pages on a canvas."""

    def __init__(
        self, canvas: Canvas, size: tuple[float, float], edge: Edge, language: Language
    ) -> None:
        self.canvas, self.edge, self.language = canvas, edge, language
        self.width, self.height = size

    def put(self, booklet: Booklet) -> None:
        for number, leaf in enumerate(booklet.leaves, start=1):
            if number == 1:
                self._bookmark(booklet.name, 0, 0.0)
            self._frame(booklet, leaf, number)
            for each in leaf.placed:
                if each.begins and each.begins.bookmark:
                    self._bookmark(each.begins.bookmark, 1, each.below)
                each.block.draw(self.canvas, MARGIN, self.height - HEAD - each.below)
            self.canvas.showPage()

    def _bookmark(self, title: str, level: int, below: float) -> None:
        key = f"{self.canvas.getPageNumber()}-{level}-{below:.0f}"
        self.canvas.bookmarkPage(key, fit="XYZ", top=self.height - HEAD - below + 12, left=0)
        self.canvas.addOutlineEntry(title, key, level, closed=level == 0)

    def _frame(self, booklet: Booklet, leaf: Leaf, number: int) -> None:
        canvas, right = self.canvas, self.width - MARGIN
        canvas.setFillColor(on_paper("ink"))
        said = f"{self.edge.team} · {day_said(self.edge.made_on, self.language)}"
        room = right - MARGIN - text_width(said, 9) - 12
        canvas.setFont(BOLD, 13)
        canvas.drawString(
            MARGIN, self.height - 10 * mm, shortened(booklet.name, 13, room, bold=True)
        )
        canvas.setFont(REGULAR, 9)
        canvas.drawRightString(right, self.height - 10 * mm, said)
        canvas.setLineWidth(0.6)
        canvas.line(MARGIN, self.height - 12 * mm, right, self.height - 12 * mm)
        page = self.language.say(PAGE_OF, page=number, pages=len(booklet.leaves))
        page = f"{self.edge.club} · {page}".lstrip(" ·")
        canvas.setFont(REGULAR, SMALL)
        canvas.drawString(MARGIN, 8.8 * mm, self.edge.caution)
        canvas.drawRightString(right, 5.6 * mm, page)
        room = right - MARGIN - text_width(page, SMALL) - 12
        said = all_as_of(leaf.plays, self.language)
        if self.edge.caution:
            canvas.drawString(MARGIN, 5.6 * mm, shortened(said, SMALL, room))
        else:  # there is room for a second line
            foot = text(said, room, SMALL)
            foot.draw(canvas, MARGIN, 5.6 * mm + foot.height - 2)


def _size(paper: str, *, lying: bool) -> tuple[float, float]:
    width, height = PAPERS[paper]
    return (height, width) if lying else (width, height)
