"""A question about one role of one play, and what was answered."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from plays.core.moves.variants import expanded
from plays.core.play import Play, Point


class QuestionKind(StrEnum):
    """What is asked, in the order in which a play is learned."""

    START = "start"
    WAIT = "wait"
    SCREEN = "screen"
    END = "end"
    LOOK = "look"
    COUNTER = "counter"
    CALL = "call"


@dataclass(frozen=True, slots=True)
class RoleQuestion:
    """``right`` holds the places of true answers among ``choices``.

    Where ``at`` is given, the question is about that place on the floor and may be answered by
    pointing. ``key`` changes with the truth: what was known of an older revision does not count.
    ``phase``, and ``counter`` where the defence answers, say which picture shows the way;
    ``variant`` is the place among the play's further calls of the one that is asked about.
    """

    key: str
    kind: QuestionKind
    asks: str
    choices: tuple[str, ...]
    right: frozenset[int]
    truth: str
    phase: str
    counter: str | None = None
    at: Point | None = None
    variant: int | None = None


def played(play: Play, question: RoleQuestion) -> Play:
    """The play as it is run in what the question asks about: on its call, if it is of one."""
    if question.variant is None:
        return play
    return expanded(play, play.variants[question.variant])


@dataclass(frozen=True, slots=True)
class Judged:
    """``metres`` from the true place, where somebody pointed; ``nearer`` names a wrong place."""

    right: bool
    metres: float | None = None
    nearer: str | None = None
