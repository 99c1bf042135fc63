"""What the defence changes for a player: the picture as always beside the other, looks beneath."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Final

from django.utils.safestring import SafeString

from plays.core.drawing.options import PAGE_LEAST, Drawing, on_page
from plays.core.drawing.phase import diagram
from plays.core.play import Counter
from plays.core.words.role_part import ChangeKind, CounterPart, LookLine, PartChange
from plays.play.page import changed_phases, svg_of
from roster.core.paper.sheet import SheetPart
from shared.core.drawing.picture import Picture, rounded
from shared.core.drawing.turning import turned
from shared.core.language import N_, Language

SMALL_LEAST: Final = 2 * PAGE_LEAST
"""Points of a page's picture, drawn half as wide on a phone of 360 px: letters as large as there.

The scale stays that of the large pictures, so that their court is packed once for all.
"""

LOOK_STAYS: Final = N_("Look {n} stays as it is.")
LOOKS_STAY: Final = N_("Looks {numbers} stay as they are.")


@dataclass(frozen=True, slots=True)
class CounterPicture:
    """A diagram of the play as it is, beside the same when the defence answers, and its looks.

    ``stays`` names those that are as they were and that no picture of the counter shows.
    """

    number: int
    title: str
    plain: SafeString
    changed: SafeString
    stays: str
    looks: tuple[LookLine, ...]


@dataclass(frozen=True, slots=True)
class MyCounter:
    """``changes`` with the coach's cues of each; ``looks_now`` heads the looks of the pictures."""

    part: CounterPart
    changes: tuple[tuple[PartChange, tuple[str, ...]], ...]
    looks_now: str
    pictures: tuple[CounterPicture, ...]


def my_counters(
    part: SheetPart, counters: Iterable[CounterPart], language: Language, turn: int
) -> tuple[MyCounter, ...]:
    """Every counter of the play for one part; ``turn`` in quarters clockwise."""
    drawn = {counter.id: counter for counter in part.carried.play.counters}
    teller = _Teller(part, language, turn)
    return tuple(teller.counter(each, drawn[each.id]) for each in counters if each.id in drawn)


@dataclass(frozen=True, slots=True)
class _Teller:
    part: SheetPart
    language: Language
    turn: int

    def counter(self, told: CounterPart, counter: Counter) -> MyCounter:
        cues = {step.action: step.teach for step in told.part.steps}
        looks = next((c for c in told.changes if c.kind is ChangeKind.LOOKS and c.sentences), None)
        return MyCounter(
            told,
            tuple((c, cues.get(c.action or "", ())) for c in told.changes if c is not looks),
            looks.heading if looks else "",
            tuple(self.pictures(counter, told.part.looks if looks else ())),
        )

    def pictures(self, counter: Counter, looks: tuple[LookLine, ...]) -> Iterator[CounterPicture]:
        """The phases that change; looks of other phases stand beneath the first, in their order."""
        play = self.part.carried.play
        phases = {play.phases[n - 1].id: n for n in changed_phases(play, counter)}
        before = {line.sentences for line in self.part.part.looks}
        for phase, number in phases.items():
            first = number == min(phases.values())
            here = [x for x in looks if x.phase == phase or (first and x.phase not in phases)]
            stay = [x for x in here if x.phase != phase and x.sentences in before]
            told = tuple(line for line in here if line not in stay)
            yield self.picture(counter, number, self.stays(stay), told)

    def stays(self, lines: list[LookLine]) -> str:
        numbers = [str(line.number) for line in lines]
        if len(numbers) < 2:
            return self.language.say(LOOK_STAYS, n=numbers[0]) if numbers else ""
        return self.language.say(LOOKS_STAY, numbers=self.language.all_of(numbers))

    def picture(
        self, counter: Counter, number: int, stays: str, looks: tuple[LookLine, ...]
    ) -> CounterPicture:
        play, role = self.part.carried.play, self.part.role
        phase = play.phases[number - 1]
        shown = Drawing(emphasis=role, names=self.part.names, label="number", crop="action")
        drawing = replace(on_page(shown, self.language), least=SMALL_LEAST)
        name = f"{counter.id}-{number}"
        plain = diagram(play, phase.id, drawing)
        changed = diagram(play, phase.id, drawing, counter=counter)
        return CounterPicture(
            number,
            phase.title,
            svg_of(turned(_whole(plain), self.turn), f"{name}p", lean=True),
            svg_of(turned(_whole(changed), self.turn), name, lean=True),
            stays,
            looks,
        )


def _whole(picture: Picture) -> Picture:
    """All but the court to whole points, less than a hair at this size: a lighter page."""
    court, *rest = picture.shapes
    return replace(picture, shapes=(court, *(rounded(shape, 0) for shape in rest)))
