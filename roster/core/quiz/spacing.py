"""When a question comes again: FSRS-6 with its published default parameters, pass or fail.

The model and its numbers are those of the library ``fsrs`` (open-spaced-repetition): right is
its "good", wrong its "again". Its minute-long learning steps are left out, so that a child is
asked the same thing once a day at most. The estimate is of remembering a question about the
play, and says nothing about running it: repetitions on the floor have a model of their own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from fsrs import Card, Rating, Scheduler, State

RETENTION: Final = 0.9
"""Asked again when the model expects nine of ten to remember: the library's own default."""

_SCHEDULER: Final = Scheduler(
    desired_retention=RETENTION, learning_steps=(), relearning_steps=(), enable_fuzzing=False
)


@dataclass(frozen=True, slots=True)
class Memory:
    """What the model keeps of a question: days of stability, difficulty from 1 to 10."""

    stability: float
    difficulty: float
    last: datetime
    due: datetime

    def to_json(self) -> dict[str, float | str]:
        return {
            "stability": self.stability,
            "difficulty": self.difficulty,
            "last": self.last.isoformat(),
            "due": self.due.isoformat(),
        }

    @classmethod
    def from_json(cls, data: Mapping[str, float | str]) -> Memory:
        """Raises KeyError and ValueError for what ``to_json`` did not write."""
        return cls(
            float(data["stability"]),
            float(data["difficulty"]),
            datetime.fromisoformat(str(data["last"])),
            datetime.fromisoformat(str(data["due"])),
        )


def answered(memory: Memory | None, *, right: bool, at: datetime) -> Memory:
    """The memory after an answer; ``at`` in UTC."""
    card = Card(card_id=0, due=at) if memory is None else _card(memory)
    after, _ = _SCHEDULER.review_card(card, Rating.Good if right else Rating.Again, at)
    if after.stability is None or after.difficulty is None:
        raise ValueError("the model gave a memory without numbers")
    return Memory(after.stability, after.difficulty, at, after.due)


def recall(memory: Memory, at: datetime) -> float:
    """The model's chance, 0 to 1, that the question is remembered at a moment in UTC."""
    return float(_SCHEDULER.get_card_retrievability(_card(memory), at))


def _card(memory: Memory) -> Card:
    return Card(
        card_id=0,
        state=State.Review,
        step=None,
        stability=memory.stability,
        difficulty=memory.difficulty,
        due=memory.due,
        last_review=memory.last,
    )
