"""A question about one role of one play, and what was answered: values only."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from plays.core.play import Point


class QuestionKind(StrEnum):
    """What is asked, in the order in which a play is learned."""

    START = "start"
    WAIT = "wait"
    SCREEN = "screen"
    END = "end"
    LOOK = "look"
    COUNTER = "counter"


@dataclass(frozen=True, slots=True)
class RoleQuestion:
    """``right`` holds the places of true answers among ``choices``.

    Where ``at`` is given, the question is about that place on the floor and may be answered by
    pointing. ``key`` changes with the truth: what was known of an older revision does not count.
    ``phase``, and ``counter`` where the defence answers, say which picture shows the way.
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


@dataclass(frozen=True, slots=True)
class Judged:
    """``metres`` from the true place, where somebody pointed; ``nearer`` names a wrong place."""

    right: bool
    metres: float | None = None
    nearer: str | None = None
