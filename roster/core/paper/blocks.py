"""What is put on paper: blocks that know their height and draw themselves from their top.

Measures are points, y up as PDF has it. Text is broken by the widths of our own typeface, which
is several times as quick as a general layout engine, and nothing depends on where a page ends:
``flow`` puts blocks on pages.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, dropwhile, groupby
from typing import Final, Protocol

from reportlab.pdfgen.canvas import Canvas

from shared.core.drawing.fonts import text_width
from shared.core.drawing.pdf import BOLD, REGULAR, draw_on_canvas, on_paper
from shared.core.drawing.picture import Picture

LEADING: Final = 1.27  # of the size
BASELINE: Final = 0.98  # of the size, below the top of the line
NUMBER: Final = 12.0  # the side of the box around a step's number

Word = tuple[str, bool]  # and whether it is bold


class PaperBlock(Protocol):
    """Anything with a height that can be drawn below ``top``."""

    @property
    def height(self) -> float: ...

    def draw(self, canvas: Canvas, x: float, top: float) -> None: ...


@dataclass(frozen=True, slots=True)
class Gap:
    """Nothing, so high."""

    height: float

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        """Leave it white."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A line across, with the room under it."""

    width: float
    thickness: float
    height: float

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        canvas.setStrokeColor(on_paper("ink"))
        canvas.setLineWidth(self.thickness)
        canvas.setDash()
        canvas.line(x, top, x + self.width, top)


@dataclass(frozen=True, slots=True)
class Lettering:
    """Lines of text, each a row of pieces that are bold or not."""

    lines: tuple[tuple[Word, ...], ...]
    size: float

    @property
    def height(self) -> float:
        return LEADING * self.size * len(self.lines)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        canvas.setFillColor(on_paper("ink"))
        written = canvas.beginText(x, top - BASELINE * self.size)
        for line in self.lines:
            written.setTextOrigin(x, top - BASELINE * self.size)
            for words, bold in line:
                written.setFont(BOLD if bold else REGULAR, self.size)
                written.textOut(words)
            top -= LEADING * self.size
        canvas.drawText(written)


@dataclass(frozen=True, slots=True)
class PictureBox:
    """A picture in its own size."""

    picture: Picture

    @property
    def height(self) -> float:
        return self.picture.height

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        draw_on_canvas(self.picture, canvas, x, top - self.height, self.picture.width)


@dataclass(frozen=True, slots=True)
class Numbered:
    """The number of a step as the diagram shows it, white in a black box, and its words.

    What the diagram does not draw has no number.
    """

    number: int | None
    words: PaperBlock

    @property
    def height(self) -> float:
        return max(NUMBER + 1, self.words.height)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        if self.number is not None:
            self._box(canvas, x, top)
        self.words.draw(canvas, x + NUMBER + 4, top)

    def _box(self, canvas: Canvas, x: float, top: float) -> None:
        said = str(self.number)
        width = max(NUMBER, text_width(said, 9, bold=True) + 2.5)
        canvas.setFillColor(on_paper("ink"))
        canvas.roundRect(x, top - NUMBER - 0.5, width, NUMBER, 2.2, stroke=0, fill=1)
        canvas.setFillColor(on_paper("paper"))
        canvas.setFont(BOLD, 9)
        canvas.drawCentredString(x + width / 2, top - 9.25, said)


@dataclass(frozen=True, slots=True)
class Stack:
    """Blocks one under the other."""

    blocks: tuple[PaperBlock, ...]

    @property
    def height(self) -> float:
        return sum(block.height for block in self.blocks)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        for block in self.blocks:
            block.draw(canvas, x, top)
            top -= block.height


@dataclass(frozen=True, slots=True)
class Beside:
    """Blocks beside each other, each so far from the left."""

    blocks: tuple[tuple[float, PaperBlock], ...]

    @property
    def height(self) -> float:
        return max((block.height for _, block in self.blocks), default=0.0)

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        for left, block in self.blocks:
            block.draw(canvas, x + left, top)


@dataclass(frozen=True, slots=True)
class Shrunk:
    """A block that is higher than any page, drawn smaller so that nothing of it is lost."""

    block: PaperBlock
    height: float

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        scale = self.height / self.block.height
        canvas.saveState()
        canvas.translate(x, top)
        canvas.scale(scale, scale)
        self.block.draw(canvas, 0, 0)
        canvas.restoreState()


def text(words: str, width: float, size: float, *, bold: str = "") -> Lettering:
    """``words`` after an opening in ``bold``, broken to ``width``."""
    return Lettering(_lines(bold, words, round(width / size, 3)), size)


def stack(blocks: Iterable[PaperBlock]) -> Stack:
    """These blocks one under the other."""
    return Stack(tuple(blocks))


def columns(
    blocks: Sequence[PaperBlock],
    count: int,
    width: float,
    gap: float,
    heads: Sequence[PaperBlock] = (),
) -> Beside:
    """The blocks in order in so many columns, parted where the highest is lowest.

    Each of the ``heads`` stands on top of a column. All are made for ``column_width``. Among
    equals the first columns are the fullest.
    """
    step = column_width(width, count, gap) + gap
    tops = [stack([head]) for head in heads] + [stack([])] * (count - len(heads))
    cuts = _cuts([block.height for block in blocks], [top.height for top in tops])
    parts = zip(tops, cuts, cuts[1:], strict=False)
    made = (stack([*top.blocks, *_from_top(blocks[a:b])]) for top, a, b in parts)
    return Beside(tuple((n * step, column) for n, column in enumerate(made)))


def _cuts(heights: Sequence[float], tops: Sequence[float]) -> list[int]:
    """Before which block each column begins, and the end."""
    total = [0.0, *accumulate(heights)]
    spans = {b - a for n, a in enumerate(total) for b in total[n:]}
    highest = max(tops, default=0.0)
    tries = sorted(
        {highest} | {top + span for top in tops for span in spans if top + span > highest}
    )
    lowest = bisect_left(
        tries, True, key=lambda most: _filled(total, tops, most)[-1] == len(heights)
    )
    return _filled(total, tops, tries[lowest])


def _filled(total: Sequence[float], tops: Sequence[float], most: float) -> list[int]:
    """The same where each column takes what fits into ``most``; perhaps not all."""
    cuts = [0]
    for top in tops:
        cuts.append(bisect_right(total, total[cuts[-1]] + most - top + 1e-6) - 1)
    return cuts


def _from_top(blocks: Sequence[PaperBlock]) -> Iterator[PaperBlock]:
    """Blocks without the gap that would stand on top of them."""
    return dropwhile(lambda block: isinstance(block, Gap), blocks)


def column_width(width: float, count: int, gap: float) -> float:
    """How wide one of so many columns is."""
    return (width - gap * (count - 1)) / count


@lru_cache(maxsize=20_000)
def _lines(bold: str, words: str, ems: float) -> tuple[tuple[Word, ...], ...]:
    """Lines of at most ``ems`` times the size; a word that is longer is broken inside."""
    given = [(word, True) for word in bold.split()] + [(word, False) for word in words.split()]
    lines: list[list[Word]] = []
    room = 0.0
    for word, is_bold in given:
        for piece in _pieces(word, is_bold, ems):
            wide = _wide(piece, is_bold)
            if not lines or wide + _wide(" ", is_bold) > room:
                lines.append([])
                room = ems
            else:
                wide += _wide(" ", is_bold)
            room -= wide
            lines[-1].append((piece, is_bold))
    return tuple(_joined(line) for line in lines)


def _pieces(word: str, bold: bool, ems: float) -> Iterable[str]:
    while len(word) > 1 and _wide(word, bold) > ems:
        fits = next(
            n for n in range(len(word) - 1, 0, -1) if n == 1 or _wide(word[:n], bold) <= ems
        )
        yield word[:fits]
        word = word[fits:]
    yield word


def _joined(line: Sequence[Word]) -> tuple[Word, ...]:
    """Neighbours of one weight as one piece, with the space before the next."""
    made: list[Word] = []
    for bold, group in groupby(line, key=lambda word: word[1]):
        said = " ".join(word for word, _ in group)
        made.append((f" {said}" if made else said, bold))
    return tuple(made)


@lru_cache(maxsize=20_000)
def _wide(word: str, bold: bool) -> float:
    return text_width(word, 1.0, bold=bold)
