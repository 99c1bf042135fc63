"""One role's part of a play as blocks: a strip of diagrams with their words beneath them.

Three phases stand beside each other, and under them in columns the looks and what the defence
changes: half a page. Who stands in for somebody gets a third of a page: smaller diagrams with
numbers, four columns, and who the others are in a line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from reportlab.pdfgen.canvas import Canvas

from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from plays.core.play import Phase
from plays.core.words.role_part import ChangeKind, CounterPart, LookLine, PartChange
from roster.core.paper.blocks import (
    BASELINE,
    LEADING,
    Beside,
    Gap,
    Numbered,
    PaperBlock,
    PictureBox,
    Rule,
    Stack,
    column_width,
    columns,
    stack,
    text,
)
from roster.core.paper.leaf import IN_REVISION, Passage
from roster.core.paper.sheet import SheetPart
from shared.core.drawing.fonts import text_width
from shared.core.drawing.picture import Picture
from shared.core.language import N_, Language

STRIP: Final = 3  # columns, with a phase in each
STRIP_STAND_IN: Final = 4
BETWEEN: Final = 10.0
CALL: Final = 14.0
BODY: Final = 8.8
BELOW: Final = 8.2  # the looks, and what the defence changes
SMALL: Final = 7.6
NUMBERED: Final = 15.0  # what a step's number takes of the width
LETTERS: Final = 8.0
"""Points: the least letters of a diagram in a strip; larger ones leave lines no room."""

ROLE: Final = N_("Role {role}")
REVISION: Final = N_("{play}, revision {revision}")
SIGNAL: Final = N_("Signal: {signal}")
STANDS_IN: Final = N_("You stand in for {who}.")
NOTHING_HERE: Final = N_("Nothing new for you here: keep your spot.")
LOOKS: Final = N_("The looks")
AS_BEFORE: Final = N_("As before.")
GOES_ON: Final = N_("{call} goes on")


def part_passage(part: SheetPart, width: float, language: Language) -> Passage:
    """The whole part, to be put on a page."""
    maker = _PartMaker(part, width, language)
    play = part.carried.play.name
    return Passage(
        tuple(maker.rows()),
        text("", width, BODY, bold=language.say(GOES_ON, call=part.call)),
        f"{part.call} · {language.say(ROLE, role=part.role)}",
        language.say(IN_REVISION, play=play, revision=part.carried.revision),
    )


class _PartMaker:
    """Makes the rows of one part."""

    def __init__(self, part: SheetPart, width: float, language: Language) -> None:
        self.part, self.width, self.language = part, width, language
        self.say: Callable[..., str] = language.say
        self.count = STRIP_STAND_IN if part.stands_in_for else STRIP
        self.cell = column_width(width, self.count, BETWEEN)

    def rows(self) -> Iterator[PaperBlock]:
        titles = [self._title(number, phase) for number, phase in enumerate(self._phases(), 1)]
        tallest = max(title.height for title in titles)
        cells = [
            stack((title, Gap(tallest - title.height), self._phase(number, phase)))
            for number, (title, phase) in enumerate(zip(titles, self._phases(), strict=True), 1)
        ]
        strips = [cells[at : at + self.count] for at in range(0, len(cells), self.count)]
        made: list[PaperBlock] = [self._beside(strip) for strip in strips[:-1]]
        # Under the last diagrams, each column goes on with what there is to read.
        words = [*self._looks(self.cell), *self._counters()]
        made.append(columns(words, self.count, self.width, BETWEEN, strips[-1]))
        # The heading never stands without the first diagrams.
        yield stack((*self._heading(), made[0], *([] if made[1:] else [Gap(12)])))
        yield from made[1:-1]
        if made[1:]:
            yield stack((made[-1], Gap(12)))

    def _phases(self) -> tuple[Phase, ...]:
        return self.part.carried.play.phases

    def _beside(self, cells: Iterable[PaperBlock]) -> Stack:
        step = self.cell + BETWEEN
        return Stack((Beside(tuple((n * step, cell) for n, cell in enumerate(cells))), Gap(6)))

    def _heading(self) -> Iterator[PaperBlock]:
        part = self.part
        carried = part.carried
        yield Rule(self.width, 1.4, 2)
        words = [
            self.say(ROLE, role=part.role),
            self.say(REVISION, play=carried.play.name, revision=carried.revision),
            self.say(SIGNAL, signal=carried.signal) if carried.signal else "",
        ]
        yield Heading(part.call, " · ".join(word for word in words if word), self.width)
        if part.stands_in_for:
            who = self.language.all_of(list(part.stands_in_for))
            others = " · ".join(f"{role} {name}" for role, name in sorted(part.names.items()))
            yield text(others, self.width, BODY, bold=self.say(STANDS_IN, who=who))
        for said in part.for_now:
            yield text("", self.width, BODY, bold=said)
        yield Gap(3)

    def _title(self, number: int, phase: Phase) -> PaperBlock:
        return text("", self.cell, BODY, bold=f"{number}. {phase.title}")

    def _phase(self, number: int, phase: Phase) -> PaperBlock:
        """A phase's picture, and beneath it what to do in it."""
        width, part = self.cell, self.part.part
        made: list[PaperBlock] = [
            Gap(2),
            PictureBox(self._picture(phase)),
            Gap(2),
        ]
        if number == 1:
            made += [text(said, width, BODY) for said in part.start]
        steps = [step for step in part.steps if step.phase == phase.id]
        reading = part.reading_in(phase.id)
        if not steps:
            said = self.say(NOTHING_HERE) if reading is None else reading.sentence
            made.append(text(said, width, BODY))
        for step in steps:
            inside = width - NUMBERED
            words = [text(step.text, inside, BODY)]
            words += [text(line, inside, SMALL) for line in step.teach]
            made += [Numbered(step.number, stack(words)), Gap(1.5)]
        if number == len(self._phases()):
            last = (part.ending, *part.calls)
            made += [text(line, width, BODY) for line in last if line]
        return stack((*made, Gap(5)))

    def _picture(self, phase: Phase) -> Picture:
        drawing = Drawing(
            emphasis=self.part.role,
            names=self.part.names,
            label="number" if self.part.stands_in_for else "both",
            scheme="print",
            crop="action",
            language=self.language,
            width=self.cell,
            least=LETTERS,
        )
        return diagram(self.part.carried.play, phase.id, drawing)

    def _looks(self, width: float) -> Iterator[PaperBlock]:
        """One block, so that a look never stands under another phase without its heading."""
        part = self.part.part
        said = [line.text for line in part.looks] + [part.no_look] * bool(part.no_look)
        lines = [block for line in said for block in (text(line, width, BELOW), Gap(1.5))]
        if lines:
            yield stack([text("", width, BELOW, bold=self.say(LOOKS)), *lines, Gap(2)])

    def _counters(self) -> Iterator[PaperBlock]:
        for counter in self.part.part.counters:
            if counter.changes or not self.part.stands_in_for:
                yield from self._counter(counter, self.cell)

    def _counter(self, counter: CounterPart, width: float) -> Iterator[PaperBlock]:
        """Pieces between which a column may end; a heading keeps what follows it."""
        said = counter.says if counter.changes else f"{counter.says} {counter.same}".strip()
        lines = [line for change in counter.changes for line in self._change(counter, change)]
        head = text(said, width, BELOW, bold=f"{counter.title}.")
        yield stack([head, *lines, Gap(3)])

    def _change(self, counter: CounterPart, change: PartChange) -> Iterator[PaperBlock]:
        """What is different, a line for each look where there are several."""
        if change.kind is ChangeKind.LOOKS and self.part.stands_in_for:
            return  # a stand-in reads the coach's sentence; the looks in full are whose role it is
        if change.kind is not ChangeKind.LOOKS or not counter.part.looks:
            yield _point("–", change.text, self.cell, 0)
            return
        if change.heading:
            yield _point("–", change.heading, self.cell, 0)
        for look in counter.part.looks:
            yield _point("", self._anew(look), self.cell, 8)

    def _anew(self, look: LookLine) -> str:
        """A look of a counter; where it is the same as against a plain defence, just that."""
        before = {each.look: each for each in self.part.part.looks}.get(look.look)
        if before is None or before.sentences[1:] != look.sentences[1:]:
            return look.text
        return f"{look.sentences[0]} {self.say(AS_BEFORE)} {look.comes}".strip()


@dataclass(frozen=True, slots=True)
class Heading:
    """The call, and after it what goes with it; beneath it where the line is too short."""

    call: str
    said: str
    width: float

    @property
    def height(self) -> float:
        return CALL * LEADING + (0 if self._fits() else SMALL * LEADING)

    def _fits(self) -> bool:
        call = text_width(f"{self.call}  ", CALL, bold=True)
        return call + text_width(self.said, SMALL) <= self.width

    def draw(self, canvas: Canvas, x: float, top: float) -> None:
        text("", self.width, CALL, bold=self.call).draw(canvas, x, top)
        if self._fits():
            left = x + text_width(f"{self.call}  ", CALL, bold=True)
            down = CALL - SMALL
            text(self.said, self.width, SMALL).draw(canvas, left, top - BASELINE * down)
        else:
            text(self.said, self.width, SMALL).draw(canvas, x, top - CALL * LEADING)


def _point(mark: str, words: str, width: float, left: float) -> PaperBlock:
    said = left, text(mark, 8, BELOW)
    return Beside((said, (left + 8, text(words, width - left - 8, BELOW))))
