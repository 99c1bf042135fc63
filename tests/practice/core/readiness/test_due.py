"""What is due before a game, and where a curve is drawn."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from practice.core.install.question import Rules
from practice.core.readiness.assumptions import Assumptions, Offsets
from practice.core.readiness.cell import Cell, readiness
from practice.core.readiness.due import DueFor, Steps, due
from practice.core.reps.rep import Mode, Touch

NOW = datetime(2026, 3, 10, 12, 0, tzinfo=UTC)
GAME = NOW + timedelta(days=6)
PLAIN = Assumptions()


def part(who: str, days: float, count: int) -> list[Touch]:
    at = NOW - timedelta(days=days)
    return [Touch(who, "lantern", "4", f"p{days}", at, Mode.LIVE, clean=True) for _ in range(count)]


HISTORY = [*part("ada", 1, 3), *part("bo", 1, 60), *part("cy", 30, 2)]
CELLS: list[Cell] = [(who, "lantern", "4") for who in ("ada", "bo", "cy", "di")]


def test_who_is_ready_today_can_be_due_for_the_game() -> None:
    found = due(HISTORY, CELLS, DueFor(NOW, GAME), PLAIN)
    assert [one.cell[0] for one in found] == ["di", "cy", "ada"]
    assert [round(one.by_game, 2) for one in found] == sorted(round(o.by_game, 2) for o in found)
    ada = found[-1]
    assert ada.now >= PLAIN.ready > ada.by_game


def test_the_reps_named_are_enough_in_the_last_practice() -> None:
    practice = GAME - timedelta(days=2)
    when = DueFor(NOW, GAME, (NOW - timedelta(days=1), practice - timedelta(days=2), practice))
    for one in due(HISTORY, CELLS, when, PLAIN):
        assert one.practice == practice
        who, play, role = one.cell
        extra = [
            Touch(who, play, role, "new", practice, Mode.LIVE, clean=True) for _ in range(one.reps)
        ]
        assert readiness([*HISTORY, *extra], one.cell, GAME, PLAIN).value >= PLAIN.ready - 1e-9


def test_offsets_make_more_due() -> None:
    slow = Offsets(players={"bo": 2.0})
    assert "bo" in [one.cell[0] for one in due(HISTORY, CELLS, DueFor(NOW, GAME), PLAIN, slow)]


def test_a_practice_that_is_over_is_no_chance_any_more() -> None:
    when = DueFor(NOW, GAME, (NOW - timedelta(days=1), GAME + timedelta(days=1)))
    assert when.last_practice is None
    assert {one.practice for one in due(HISTORY, CELLS, when, PLAIN)} == {None}


def run(days: float, mode: Mode) -> Touch:
    return Touch("ada", "lantern", "4", f"p{days}", NOW - timedelta(days=days), mode, clean=True)


@pytest.mark.parametrize(
    ("history", "walks", "halves"),
    [
        ([], 2, 2),
        ([run(2, Mode.WALK_THROUGH)], 1, 2),
        ([run(2, Mode.WALK_THROUGH)] * 5, 0, 2),
        ([run(2, Mode.WALK_THROUGH)] * 2 + [run(1, Mode.HALF_SPEED)], 0, 1),
        ([run(2, Mode.HALF_SPEED)] * 2, 0, 0),
        ([run(1, Mode.LIVE)], 1, 1),
        ([run(13, Mode.HALF_SPEED)] * 2, 0, 0),
        ([run(15, Mode.HALF_SPEED)] * 2, 2, 2),
    ],
)
def test_a_play_is_walked_then_run_at_half_speed_then_live(
    history: list[Touch], walks: int, halves: int
) -> None:
    """Whole, slow and then live is how plays are installed (common practice, no source)."""
    (one,) = due(history, [("ada", "lantern", "4")], DueFor(NOW, GAME), PLAIN)
    assert (one.walks, one.halves) == (walks, halves)


def test_the_steps_are_those_of_the_install_plan() -> None:
    rules = Rules()
    assert Steps() == Steps(rules.walk_first, rules.half_first, rules.recall_days)
    hard = Steps(walk_first=4, half_first=3)
    (one,) = due([], [("ada", "lantern", "4")], DueFor(NOW, GAME), PLAIN, steps=hard)
    assert (one.walks, one.halves) == (4, 3)
