"""What is due before a game, and where a curve is drawn."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from practice.core.readiness.assumptions import Assumptions, Offsets
from practice.core.readiness.cell import Cell, curve, readiness
from practice.core.readiness.due import DueFor, cast_cells, curve_moments, due, ready_cells
from practice.core.readiness.grid import grid, ledger
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


def test_the_cells_of_a_cast_by_depth() -> None:
    cast = {"1": ("ada", "bo"), "2": ("cy",), "4": ()}
    assert cast_cells("k", cast) == (("ada", "k", "1"), ("cy", "k", "2"))
    assert cast_cells("k", cast, depth=2)[-1] == ("bo", "k", "1")


def test_coverage_can_ask_who_is_ready() -> None:
    values = grid(ledger(HISTORY, ["ada", "bo", "cy"], ["lantern"], PLAIN), NOW)
    ready = ready_cells(values, 0.6)
    assert ready == {("ada", "lantern", "4"), ("bo", "lantern", "4")}


def test_a_curve_has_a_point_on_both_sides_of_each_practice() -> None:
    start = NOW - timedelta(days=10)
    moments = curve_moments(HISTORY, CELLS[0], start, GAME, timedelta(days=1))
    held = NOW - timedelta(days=1)
    assert {start, GAME, held, held - timedelta(seconds=1)} <= set(moments)
    assert list(moments) == sorted(set(moments))
    values = dict(curve(HISTORY, CELLS[0], moments, PLAIN))
    assert values[held - timedelta(seconds=1)] == 0.0
    assert values[held] > 0.8


def test_a_practice_that_is_over_is_no_chance_any_more() -> None:
    when = DueFor(NOW, GAME, (NOW - timedelta(days=1), GAME + timedelta(days=1)))
    assert when.last_practice is None
    assert {one.practice for one in due(HISTORY, CELLS, when, PLAIN)} == {None}
