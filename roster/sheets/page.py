"""One part of a sheet, ready for the phone page: words beside their diagrams."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from django.utils.safestring import SafeString

from plays.core.drawing.facing import AT_BASKET
from plays.core.drawing.options import Drawing, LabelKind, on_page
from plays.core.drawing.phase import diagram
from plays.core.words.role_part import CounterPart, Reading, RolePart, Step
from plays.play.page import svg_of
from roster.core.paper.sheet import SheetPart
from roster.models import GotIt
from roster.sheets.load import TeamSheets
from shared.core.drawing.turning import turned
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class PhaseLook:
    """A look beside the diagram that shows it; ``picture`` is the number of a later one, or 0."""

    number: int
    text: str
    picture: int


@dataclass(frozen=True, slots=True)
class SheetPhase:
    """One diagram with the player's own steps; ``reading`` is for who passes the looks of it."""

    title: str
    svg: SafeString
    steps: tuple[Step, ...]
    reading: Reading | None
    looks: tuple[PhaseLook, ...]


@dataclass(frozen=True, slots=True)
class SheetView:
    """``stands_in`` names those whom the player stands in for, as a list in a sentence."""

    part: SheetPart
    stands_in: str
    phases: tuple[SheetPhase, ...]
    counters: tuple[CounterPart, ...]


def sheet_view(part: SheetPart, language: Language, quarters: int = AT_BASKET) -> SheetView:
    """The part with a diagram for each phase, the player's own path heavy and numbered.

    ``quarters`` turns the pictures clockwise.
    """
    play = part.carried.play
    # Turned by a quarter a name would lie across its own disc: numbers alone then.
    label: LabelKind = "number" if quarters else "both"
    shown = Drawing(emphasis=part.role, names=part.names, label=label, crop="action")
    drawing = on_page(shown, language)
    phases = tuple(
        SheetPhase(
            phase.title,
            svg_of(
                turned(diagram(play, phase.id, drawing), quarters),
                f"{play.key}-{part.role}-{phase.id}",
                lean=True,
            ),
            tuple(step for step in part.part.steps if step.phase == phase.id),
            part.part.reading_in(phase.id),
            tuple(_looks(part.part, number, [each.id for each in play.phases])),
        )
        for number, phase in enumerate(play.phases)
    )
    stands_in = language.all_of(part.stands_in_for)
    return SheetView(part, stands_in, phases, part.part.counters)


def _looks(part: RolePart, at: int, phases: list[str]) -> Iterator[PhaseLook]:
    """The looks of the phase at an index, in order; what comes later is named with its picture."""
    for line in part.looks_in(phases[at], phases[at + 1 :]):
        here = line.phase == phases[at]
        yield PhaseLook(line.number, line.text, 0 if here else phases.index(line.phase) + 1)


@dataclass(frozen=True, slots=True)
class Unsaid:
    """A play with those who hold a link and have not said there that they have got it.

    ``asked`` is how many of its cast hold one: who reads on paper only has nowhere to say so.
    """

    call: str
    who: str
    missing: int
    asked: int


def unsaid(loaded: TeamSheets, linked: Collection[int], language: Language) -> list[Unsaid]:
    """Which of the ``linked`` have not confirmed what is carried, by play: one query."""
    said = set(
        GotIt.objects.filter(
            player__team=loaded.team, revision__in=set(loaded.revisions.values())
        ).values_list("player_id", "entry_id", "role", "revision_id")
    )
    found = []
    for carried in loaded.package:
        places = [a for a in loaded.cast.assignments if a.play == carried.id]
        revision = loaded.revisions[carried.id]
        people = {a.player for a in places if a.player in loaded.players and a.player in linked}
        missing = {
            a.player
            for a in places
            if a.player in people and (a.player, a.play, a.role, revision) not in said
        }
        if missing:
            names = [str(player) for pk, player in loaded.players.items() if pk in missing]
            call = loaded.called(carried, language)
            found.append(Unsaid(call, language.all_of(names), len(missing), len(people)))
    return found
