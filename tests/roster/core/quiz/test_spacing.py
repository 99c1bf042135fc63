"""Spacing held against FSRS-6's published formulas and default parameters.

Formulas and parameters: open-spaced-repetition, "The Algorithm" (FSRS-6), written out here by
hand; w0 and w2 are the first stabilities for "again" and "good", R = (1 + f t/S)^(-w20).
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from fsrs import Card

from roster.core.quiz import spacing
from roster.core.quiz.spacing import Memory, answered, recall

NOW = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
W0, W2, W20 = 0.212, 2.3065, 0.1542
FACTOR = 0.9 ** (-1 / W20) - 1


def test_a_first_right_answer_has_the_published_stability() -> None:
    memory = answered(None, right=True, at=NOW)
    assert memory.stability == pytest.approx(W2)
    assert memory.due - NOW == timedelta(days=2)  # the interval at 0.9 is the stability, rounded


def test_a_first_wrong_answer_comes_again_tomorrow() -> None:
    memory = answered(None, right=False, at=NOW)
    assert memory.stability == pytest.approx(W0)
    assert memory.due - NOW == timedelta(days=1)
    assert memory.difficulty > answered(None, right=True, at=NOW).difficulty


@pytest.mark.parametrize("days", [0.5, 2, 10, 60])
def test_recall_follows_the_published_curve(days: float) -> None:
    memory = answered(None, right=True, at=NOW)
    whole = int(days)  # the library counts whole days
    assert recall(memory, NOW + timedelta(days=days)) == pytest.approx(
        (1 + FACTOR * whole / W2) ** -W20, abs=1e-6
    )


def test_right_answers_space_out_and_a_wrong_one_brings_back() -> None:
    memory, gaps = None, []
    at = NOW
    for _ in range(4):
        memory = answered(memory, right=True, at=at)
        gaps.append(memory.due - at)
        at = memory.due
    assert gaps == sorted(gaps)
    assert gaps[-1] > 4 * gaps[0]
    assert answered(memory, right=False, at=at).due - at < gaps[1]


def test_a_memory_goes_through_json() -> None:
    memory = answered(None, right=True, at=NOW)
    assert Memory.from_json(memory.to_json()) == memory
    with pytest.raises(KeyError):
        Memory.from_json({"stability": 1.0})


def test_a_memory_without_numbers_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """The library's types allow a card without numbers; one of them would be kept as no number."""

    class Forgetful:
        def __init__(self, stability: float | None, difficulty: float | None) -> None:
            self.card = Card(card_id=0, stability=stability, difficulty=difficulty, due=NOW)

        def review_card(self, *_: object) -> tuple[Card, None]:
            return self.card, None

    for kept in ((2.0, None), (None, 5.0)):
        monkeypatch.setattr(spacing, "_SCHEDULER", Forgetful(*kept))
        with pytest.raises(ValueError, match=r"^the model gave a memory without numbers$"):
            answered(None, right=True, at=NOW)


def test_a_memory_is_written_field_by_field() -> None:
    memory = Memory(2.5, 6.25, NOW, NOW + timedelta(days=3))
    assert memory.to_json() == {
        "stability": 2.5,
        "difficulty": 6.25,
        "last": "2026-11-25T18:00:00+00:00",
        "due": "2026-11-28T18:00:00+00:00",
    }
    for field in ("difficulty", "last", "due"):
        less = {key: value for key, value in memory.to_json().items() if key != field}
        with pytest.raises(KeyError, match=field):
            Memory.from_json(less)
    with pytest.raises(ValueError, match="float"):
        Memory.from_json({**memory.to_json(), "stability": "much"})
