"""One role's part of a play in plain sentences: what a player's sheet says.

``part_of`` gives where to start, the numbered steps in order of time, where to end, the
role's place among the looks, and what changes when the defence does each thing. Every
sentence says one fact of ``facts``, so that text and diagram tell the same; step numbers are
those of the diagram. What a coach typed (conditions, teaching cues, what a counter says) is
passed on as typed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from plays.core.play import Play, Role
from plays.core.words.counters import ChangeKind, CounterPart, PartChange, counter_part
from plays.core.words.plain import LookLine, PlainPart, Reading, Step, plain_part
from plays.core.words.speaker import speaker
from shared.core.language import ENGLISH, Language

__all__ = [
    "ChangeKind",
    "CounterPart",
    "LookLine",
    "PartChange",
    "PlainPart",
    "Reading",
    "RolePart",
    "Step",
    "part_of",
]


@dataclass(frozen=True, slots=True)
class RolePart:
    """A role's plain part, and what each counter of the play changes in it."""

    plain: PlainPart
    counters: tuple[CounterPart, ...]

    @property
    def role(self) -> Role:
        return self.plain.role

    @property
    def start(self) -> tuple[str, ...]:
        return self.plain.start

    @property
    def steps(self) -> tuple[Step, ...]:
        return self.plain.steps

    @property
    def ending(self) -> str:
        return self.plain.ending

    @property
    def looks(self) -> tuple[LookLine, ...]:
        return self.plain.looks

    @property
    def no_look(self) -> str:
        return self.plain.no_look

    @property
    def note(self) -> str:
        return self.plain.note

    def reading_in(self, phase: str) -> Reading | None:
        """The looks that the role reads in a phase as the passer, or None."""
        return self.plain.reading_in(phase)

    def sentences(self) -> tuple[str, ...]:
        """The plain part from start to looks, in the order in which it is read."""
        steps = [sentence for step in self.steps for sentence in step.sentences]
        looks = [sentence for line in self.looks for sentence in (*line.sentences, line.comes)]
        said = [*self.start, *steps, self.ending, *looks, self.no_look, self.note]
        return tuple(sentence for sentence in said if sentence)


def part_of(
    play: Play,
    role: Role,
    names: Mapping[Role, str] | None = None,
    language: Language = ENGLISH,
) -> RolePart:
    """What the player in ``role`` has to know. Raises KeyError for a role without a start.

    ``names`` holds call names by role; whoever is missing is named by number.
    """
    voice = speaker(play, role, names or {}, language)
    plain = plain_part(play, voice)
    counters = tuple(counter_part(play, counter, plain, voice) for counter in play.counters)
    return RolePart(plain, counters)
