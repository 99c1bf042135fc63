"""One role's part of a play as sentences: the values that sheets and pages read."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum

from plays.core.play import Defence, Role


@dataclass(frozen=True, slots=True)
class Step:
    """One action of the role: ``number`` as in the diagram, ``phase`` and ``action`` by id.

    What it waits for, what is done, and what comes then: sentences of each, in this order.
    """

    number: int
    phase: str
    action: str
    wait: tuple[str, ...]
    act: tuple[str, ...]
    then: tuple[str, ...]
    teach: tuple[str, ...] = ()  # as the coach typed them

    @property
    def sentences(self) -> tuple[str, ...]:
        return (*self.wait, *self.act, *self.then)

    @property
    def lines(self) -> tuple[str, ...]:
        """Wait, do, then: a line of each that has something to say."""
        return tuple(" ".join(said) for said in (self.wait, self.act, self.then) if said)

    @property
    def text(self) -> str:
        return " ".join(self.sentences)


@dataclass(frozen=True, slots=True)
class LookLine:
    """A look that the role reads as the passer, or may be; ``comes`` says after which step.

    ``phase`` is the one in whose diagram the look is drawn, by id.
    """

    number: int
    look: str
    reads: bool
    sentences: tuple[str, ...]
    comes: str = ""
    phase: str = ""

    @property
    def text(self) -> str:
        return " ".join((*self.sentences, self.comes)).strip()


@dataclass(frozen=True, slots=True)
class Reading:
    """The looks, by number, that the role reads as the passer in one phase."""

    phase: str
    looks: tuple[int, ...]
    sentence: str


@dataclass(frozen=True, slots=True)
class RolePart:
    """A role's part against a plain defence, and what each counter of the play changes in it.

    ``ending`` is empty where the steps tell it, since it depends on the look that was thrown.
    """

    role: Role
    start: tuple[str, ...]
    steps: tuple[Step, ...]
    ending: str
    looks: tuple[LookLine, ...]
    no_look: str  # said to who is none of the looks, else empty
    note: str  # what near and far, left and right mean
    readings: tuple[Reading, ...] = ()  # one for each phase with looks to read, in order
    counters: tuple[CounterPart, ...] = ()
    calls: tuple[str, ...] = ()  # what the role does otherwise on the play's other calls

    @property
    def job(self) -> tuple[str, ...]:
        """In short, a sentence or a few each: where the role starts, and its steps in order."""
        return (*self.start[:1], *(step.text for step in self.steps))

    def reading_in(self, phase: str) -> Reading | None:
        """What the role reads in a phase; None where it reads no look there."""
        return next((each for each in self.readings if each.phase == phase), None)

    def looks_in(self, phase: str, later: Collection[str]) -> tuple[LookLine, ...]:
        """The looks of a phase in their order, and those before them that come ``later``.

        A passer who reads 2 and 3 while 1 is still to come learns there where 1 is.
        """
        here = [each.number for each in self.looks if each.phase == phase]
        return tuple(
            each
            for each in self.looks
            if each.phase == phase or (each.phase in later and here and each.number < here[-1])
        )

    def sentences(self) -> tuple[str, ...]:
        """The plain part from start to looks, in the order in which it is read."""
        steps = [sentence for step in self.steps for sentence in step.sentences]
        looks = [sentence for line in self.looks for sentence in (*line.sentences, line.comes)]
        said = [*self.start, *steps, self.ending, *looks, self.no_look, self.note]
        return tuple(sentence for sentence in said if sentence)


class ChangeKind(StrEnum):
    START = "start"
    STEP = "step"
    NEW_STEP = "new_step"
    LEFT_OUT = "left_out"
    ENDING = "ending"
    LOOKS = "looks"


@dataclass(frozen=True, slots=True)
class PartChange:
    """One thing that is different: ``heading`` may be empty, and so may ``sentences``."""

    kind: ChangeKind
    heading: str
    sentences: tuple[str, ...] = ()
    action: str | None = None  # of a step

    @property
    def text(self) -> str:
        return " ".join((self.heading, *self.sentences)).strip()


@dataclass(frozen=True, slots=True)
class CounterPart:
    """What one counter means for a role.

    ``says`` is the coach's own sentence, or empty; ``changes`` is empty when nothing is different,
    and ``same`` then says so. ``part`` is the whole part as the counter's diagram numbers it.
    """

    id: str
    defence: Defence
    title: str
    says: str
    changes: tuple[PartChange, ...]
    same: str
    part: RolePart
