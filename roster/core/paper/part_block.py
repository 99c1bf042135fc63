"""One role's part of a play as blocks: a strip of diagrams with their words beneath them.

Up to three phases stand beside each other, and under and beside them in columns the looks and
what the defence changes: half a page at most for nearly every part. A phase in which the player
only keeps the spot is a line under the one before. Who stands in for somebody gets a third of a
page: smaller diagrams with numbers, three columns or four, whichever is lower, and who the
others are in a line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from typing import Final

from reportlab.pdfgen.canvas import Canvas

from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from plays.core.play import Phase, Play, Role
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
from roster.core.paper.leaf import AS_OF, Passage, as_of
from roster.core.paper.sheet import SheetPart
from shared.core.drawing.fonts import text_width
from shared.core.language import N_, Language

STRIP: Final = 3  # columns, with a phase in each
STRIP_STAND_IN: Final = 4  # or three
BETWEEN: Final = 10.0
CALL: Final = 14.0
BODY: Final = 9.0  # names, roles, looks and times: no letter of a part is smaller
SMALL: Final = 9.0  # beside the call
NUMBERED: Final = 15.0  # what a step's number takes of the width
LETTERS: Final = 9.0
"""Points: the least letters of a diagram in a strip."""

AIR: Final = 10.0  # after a part

Numbering = tuple[int, Phase]  # a phase with its number

ROLE: Final = N_("Role {role}")
SIGNAL: Final = N_("Signal: {signal}")
STANDS_IN: Final = N_("You stand in for {who}.")
NOTHING_HERE: Final = N_("Nothing new for you here: keep your spot.")
LOOKS: Final = N_("The looks")
AS_BEFORE: Final = N_("As before.")
ALL_AS_BEFORE: Final = N_("Looks {numbers}. As before.")
GOES_ON: Final = N_("{call} goes on")


def part_passage(part: SheetPart, made_on: date, width: float, language: Language) -> Passage:
    """The whole part, to be put on a page of a sheet that is made on this day."""
    counts = (STRIP, STRIP_STAND_IN) if part.stands_in_for else (STRIP,)
    day = as_of(part.carried.published, made_on, language)
    tries = [_PartMaker(part, day, width, count, language).rows() for count in counts]
    return Passage(
        min(tries, key=lambda rows: sum(row.height for row in rows)),
        text("", width, BODY, bold=language.say(GOES_ON, call=part.call)),
        f"{part.call} · {language.say(ROLE, role=part.role)}",
        ((part.carried.play.name, day),),
    )


class _PartMaker:
    """Makes the rows of one part in so many columns."""

    def __init__(
        self, part: SheetPart, day: str, width: float, count: int, language: Language
    ) -> None:
        self.part, self.day, self.width, self.language = part, day, width, language
        self.count = count
        self.say: Callable[..., str] = language.say
        self.cell = column_width(width, count, BETWEEN)

    def rows(self) -> tuple[PaperBlock, ...]:
        scenes = self._scenes()
        titles = [self._titles(scene[:1]) for scene in scenes]
        tallest = max(title.height for title in titles)
        heads = [
            stack((title, Gap(tallest - title.height + 2), self._picture(scene[0][1]), Gap(2)))
            for title, scene in zip(titles, scenes, strict=True)
        ]
        words = [block for scene in scenes for block in self._scene(scene)]
        words += [*self._looks(), *self._counters()]
        strips = [heads[at : at + self.count] for at in range(0, len(heads), self.count)]
        made: list[PaperBlock] = [self._beside(strip) for strip in strips[:-1]]
        # Under the last diagrams and beside them there is what to read, from column to column.
        made.append(columns(words, self.count, self.width, BETWEEN, strips[-1]))
        # The heading never stands without the first diagrams.
        made[0] = stack((*self._heading(), made[0]))
        made[-1] = stack((made[-1], Gap(AIR)))
        return tuple(made)

    def _scenes(self) -> list[list[Numbering]]:
        """The phases by diagram: one in which the player keeps the spot goes with that before."""
        made: list[list[Numbering]] = []
        for numbered in enumerate(self.part.carried.play.phases, 1):
            if made and self._keeps_spot(numbered[1]):
                made[-1].append(numbered)
            else:
                made.append([numbered])
        return made

    def _keeps_spot(self, phase: Phase) -> bool:
        part = self.part.part
        busy = {step.phase for step in part.steps} | {look.phase for look in part.looks}
        return phase.id not in busy and part.reading_in(phase.id) is None

    def _beside(self, cells: Iterable[PaperBlock]) -> Stack:
        step = self.cell + BETWEEN
        return Stack((Beside(tuple((n * step, cell) for n, cell in enumerate(cells))), Gap(6)))

    def _heading(self) -> Iterator[PaperBlock]:
        part = self.part
        carried = part.carried
        yield Rule(self.width, 1.4, 2)
        words = [
            self.say(ROLE, role=part.role),
            self.say(AS_OF, play=carried.play.name, day=self.day),
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

    def _titles(self, phases: Iterable[Numbering], said: str = "") -> PaperBlock:
        title = " · ".join(f"{number}. {phase.title}" for number, phase in phases)
        return text(said, self.cell, BODY, bold=f"{title}." if said else title)

    def _scene(self, phases: Sequence[Numbering]) -> Iterator[PaperBlock]:
        """What to do in a phase, and in which next ones nothing."""
        (number, phase), *still = phases
        part = self.part.part
        steps = [step for step in part.steps if step.phase == phase.id]
        reading = part.reading_in(phase.id)
        if number == 1:
            yield from map(self._text, part.start)
        if not steps:
            said = self.say(NOTHING_HERE) if reading is None else reading.sentence
            yield self._text(said, bold=f"{number}.")
        for step in steps:
            done = Numbered(step.number, text(step.text, self.cell - NUMBERED, BODY))
            cues = stack(_point("–", line, self.cell, NUMBERED) for line in step.teach)
            # Narrow columns are high: there the coach's cues may stand in the next.
            yield from (done, cues) if self.count > STRIP else (stack((done, cues)),)
            yield Gap(1.5)
        if still:
            yield self._titles(still, self.say(NOTHING_HERE))
        if phases[-1][0] == len(self.part.carried.play.phases):
            yield from (self._text(line) for line in (part.ending, *part.calls) if line)
        yield Gap(5)

    def _picture(self, phase: Phase) -> PaperBlock:
        part, play = self.part, self.part.carried.play
        if part.stands_in_for:
            return _numbers_only(play, phase.id, part.role, self.cell, self.language)
        drawing = replace(_drawing(part.role, self.cell, self.language), names=part.names)
        return PictureBox(diagram(play, phase.id, replace(drawing, label="both")))

    def _looks(self) -> Iterator[PaperBlock]:
        """One block, so that a look never stands under another phase without its heading."""
        part = self.part.part
        said = [line.text for line in part.looks] + [part.no_look] * bool(part.no_look)
        lines = [block for line in said for block in (self._text(line), Gap(1.5))]
        if lines:
            yield stack([self._text("", bold=self.say(LOOKS)), *lines, Gap(2)])

    def _counters(self) -> Iterator[PaperBlock]:
        """What each defence changes for the player, and in one line those that change nothing."""
        same = [counter for counter in self.part.part.counters if not counter.changes]
        for counter in self.part.part.counters:
            if counter.changes:
                lines = [line for each in counter.changes for line in self._change(counter, each)]
                head = self._text(counter.says, bold=f"{counter.title}.")
                # A column ends neither after a heading nor before a last line.
                first, last = lines[:1], lines[1:][-2:]
                yield from (stack([head, *first]), *lines[1:-2], *([stack(last)] if last else []))
                yield Gap(3)
        if same:
            titles = " · ".join(dict.fromkeys(counter.title for counter in same))
            yield stack([self._text(same[0].same, bold=f"{titles}."), Gap(3)])

    def _text(self, words: str, bold: str = "") -> PaperBlock:
        return text(words, self.cell, BODY, bold=bold)

    def _change(self, counter: CounterPart, change: PartChange) -> Iterator[PaperBlock]:
        """What is different, a line for each look where there are several."""
        if change.kind is ChangeKind.LOOKS and self.part.stands_in_for:
            return  # a stand-in reads the coach's sentence; the looks in full are whose role it is
        if change.kind is not ChangeKind.LOOKS or not counter.part.looks:
            yield _point("–", change.text, self.cell, 0)
            return
        heading, (first, *others) = change.heading, self._anew(counter.part.looks)
        yield _point("–", f"{heading} {first}".strip(), self.cell, 0)
        for said in others:
            yield _point("", said, self.cell, 0)

    def _anew(self, looks: Iterable[LookLine]) -> Iterator[str]:
        """The looks of a counter; those that are as against a plain defence in one line."""
        before = {each.look: each for each in self.part.part.looks}
        kept: list[LookLine] = []
        for look in looks:
            was = before.get(look.look)
            if was is None or was.sentences[1:] != look.sentences[1:]:
                yield look.text
            elif look.reads and not look.comes:
                kept.append(look)
            else:
                yield self._as_before(look)
        if len(kept) > 1:
            numbers = self.language.all_of([str(look.number) for look in kept])
            yield self.say(ALL_AS_BEFORE, numbers=numbers)
        else:
            yield from map(self._as_before, kept)

    def _as_before(self, look: LookLine) -> str:
        return f"{look.sentences[0]} {self.say(AS_BEFORE)} {look.comes}".strip()


@lru_cache(maxsize=500)
def _numbers_only(
    play: Play, phase: str, role: Role, width: float, language: Language
) -> PictureBox:
    """A diagram without names: the same for everybody who stands in here."""
    return PictureBox(diagram(play, phase, _drawing(role, width, language)))


def forget() -> None:
    """Keep no diagram from before, as in a process that has just begun."""
    _numbers_only.cache_clear()


def _drawing(role: Role, width: float, language: Language) -> Drawing:
    return Drawing(
        emphasis=role,
        scheme="print",
        crop="action",
        language=language,
        width=width,
        least=LETTERS,
    )


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
    said = left, text(mark, 8, BODY)
    return Beside((said, (left + 8, text(words, width - left - 8, BODY))))
