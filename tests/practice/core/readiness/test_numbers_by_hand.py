"""Readiness by hand: the reps that are needed, the marks of the grid, and what is refused.

With the defaults a readiness of 0.5 asks for a strength of 1 and one of 0.6 for 1.5 ** 0.45 =
1.2002; one practice of n clean live reps is worth sqrt(n / age) (see ``cell``).
"""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from plays.core.play import ROLES
from practice.core.readiness.assumptions import Assumptions, Offsets
from practice.core.readiness.calibration import walk_forward
from practice.core.readiness.calibration_rows import rows_of
from practice.core.readiness.cell import (
    Cell,
    chance,
    curve,
    readiness,
    reps_needed,
    sampled,
    short_of,
    strength_for,
)
from practice.core.readiness.grid import ReadinessMark, grid, ledger, mark_of, standings
from practice.core.reps.rep import Mode, Touch
from shared.core.numbers import hundredths

GAME = datetime(2026, 3, 20, 12, 0, tzinfo=UTC)
CELL: Cell = ("ada", "lantern", "4")
DEFAULTS = Assumptions()
NOTHING = readiness([], CELL, GAME, DEFAULTS)


def touch(days: float, mode: Mode = Mode.LIVE, *, clean: bool = True, count: int = 1) -> Touch:
    at = GAME - timedelta(days=days)
    return Touch("ada", "lantern", "4", f"p{days}", at, mode, clean, count)


# --- reps that are needed -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("mode", "days", "target", "reps"),
    [
        # A strength of 1 in the practice of the day before is one live rep, four days before
        # four (2 ** 2), nine days before nine.
        (Mode.LIVE, 1, 0.5, 1),
        (Mode.LIVE, 4, 0.5, 4),
        (Mode.LIVE, 9, 0.5, 9),
        # 1.2002 ** 2 = 1.4405 live reps: 2; at half speed / 0.6 = 2.4: 3; walked / 0.3 = 4.8: 5.
        (Mode.LIVE, 1, 0.6, 2),
        (Mode.HALF_SPEED, 1, 0.6, 3),
        (Mode.WALK_THROUGH, 1, 0.6, 5),
        # (1.2002 * 2) ** 2 = 5.76.
        (Mode.LIVE, 4, 0.6, 6),
        # An hour before counts as a quarter of a day: 1.4405 * 0.25 = 0.36.
        (Mode.LIVE, 1 / 24, 0.6, 1),
    ],
)
def test_reps_needed_by_hand(mode: Mode, days: float, target: float, reps: int) -> None:
    assert reps_needed(NOTHING, mode, days, DEFAULTS, target=target) == reps
    assert reps_needed(NOTHING, mode, days, replace(DEFAULTS, ready=target)) == reps


def test_who_is_there_already_needs_none() -> None:
    now = readiness([touch(1)], CELL, GAME, DEFAULTS)
    assert now.strength == 1.0
    assert reps_needed(now, Mode.LIVE, 1, DEFAULTS, target=0.5) == 0
    assert reps_needed(now, Mode.LIVE, 1, replace(DEFAULTS, ready=0.5)) == 0
    assert reps_needed(now, Mode.LIVE, 1, DEFAULTS) == 1  # 0.2002 ** 2 = 0.04 of a rep
    assert reps_needed(now, Mode.LIVE, 1, DEFAULTS, offset=1.0) == 6  # (3.2625 - 1) ** 2 = 5.12


def test_who_only_walked_needs_one_rep_that_is_faster() -> None:
    """However much was walked: short of ready by our rule, and one real rep ends that."""
    walked = readiness([touch(1, Mode.WALK_THROUGH, count=40)], CELL, GAME, DEFAULTS)
    assert walked.strength > strength_for(0.6, DEFAULTS)
    assert walked.value == pytest.approx(0.59)
    assert reps_needed(walked, Mode.LIVE, 1, DEFAULTS) == 1
    assert reps_needed(walked, Mode.LIVE, 1, DEFAULTS, target=0.6) == 0


def test_a_mode_that_is_worth_nothing_reaches_nothing() -> None:
    idle = replace(DEFAULTS, walk_through=0.0)
    message = r"^walk_through reps are worth nothing under these assumptions$"
    with pytest.raises(ValueError, match=message):
        reps_needed(NOTHING, Mode.WALK_THROUGH, 1, idle)


@pytest.mark.parametrize("value", [0.0, 1.0, -0.2, 1.2])
def test_no_strength_is_sure_or_hopeless(value: float) -> None:
    with pytest.raises(ValueError, match=f"^no strength gives a readiness of {value}$"):
        strength_for(value, DEFAULTS)


def test_a_strength_by_hand() -> None:
    assert strength_for(0.5, DEFAULTS) == 1.0
    assert strength_for(0.6, DEFAULTS) == pytest.approx(1.5**0.45)
    assert strength_for(0.6, DEFAULTS, 0.3) == pytest.approx(1.5**0.45 * 2.718281828**0.3)
    assert chance(0.0, DEFAULTS) == 0.0
    assert chance(1.0, DEFAULTS) == 0.5
    assert chance(1e-300, replace(DEFAULTS, spread=0.05)) == 0.0


# --- counts and curves --------------------------------------------------------------------


def test_reps_are_those_behind_the_number_clean_or_not() -> None:
    history = [touch(1, count=3), touch(1, clean=False), touch(4, Mode.WALK_THROUGH, count=2)]
    later = touch(-1)
    now = readiness([*history, later], CELL, GAME, DEFAULTS)
    assert now.reps == 6
    assert [c.practice for c in now.contributions] == ["p4", "p1"]
    assert now.contributions[1].clean == {Mode.LIVE: 3}
    assert now.contributions[1].errors == {Mode.LIVE: 1}
    assert now.contributions[1].worth == 3.5
    assert NOTHING.reps == 0


def test_a_curve_by_hand_leaves_other_cells_out() -> None:
    other = replace(touch(2), role="5")
    moments = [GAME - timedelta(days=5), GAME - timedelta(days=3), GAME]
    found = curve([touch(4), other], CELL, moments, DEFAULTS, Offsets({"ada": 0.0}))
    assert [moment for moment, _ in found] == moments
    # Strengths 0, 1 and 4 ** -0.5; (1 / 2) ** (1 / 0.45) = 0.2143, of 1.2143 0.1765.
    assert [value for _, value in found] == pytest.approx([0.0, 0.5, 0.1765], abs=1e-4)
    harder = curve([touch(4)], CELL, moments, DEFAULTS, Offsets({"ada": 0.45}))
    assert harder[1][1] == pytest.approx(0.2689, abs=1e-4)  # 1 / (1 + e)


def test_a_rep_on_the_last_moment_is_still_drawn() -> None:
    first, last = GAME, GAME + timedelta(hours=2)
    found = sampled(first, last, [last], 1)
    assert found == (first, last - timedelta(seconds=1), last)


def test_a_hundredth_is_rounded_down() -> None:
    assert [hundredths(value) for value in (0.0, 0.5999, 0.6, 0.29, 1.0)] == [0, 59, 60, 29, 100]
    assert short_of(0.6) == pytest.approx(0.59)
    assert short_of(0.005) == 0.0


# --- the grid -----------------------------------------------------------------------------


def test_a_mark_and_a_value_are_those_of_their_own_cell() -> None:
    history = [touch(1, count=4), replace(touch(1), player="bo", role="2")]
    book = ledger(history, ("bo", "ada"), ("anchor", "lantern"), DEFAULTS)
    now, marks = grid(book, GAME), standings(book, GAME)
    # sqrt(4) = 2: 2 ** (1 / 0.45) = 4.666, of 5.666 0.8235.
    assert now.at(CELL) == pytest.approx(0.8235, abs=1e-4)
    assert now.at(("bo", "lantern", "2")) == 0.5
    assert now.mark(marks, CELL) is ReadinessMark.READY
    assert now.mark(marks, ("bo", "lantern", "2")) is ReadinessMark.LEARNING
    assert now.mark(marks, ("bo", "anchor", "2")) is ReadinessMark.NEVER
    for stranger in (("zed", "lantern", "4"), ("ada", "gone", "4")):
        with pytest.raises(ValueError, match="not in"):
            now.at(stranger)
        with pytest.raises(ValueError, match="not in"):
            now.mark(marks, stranger)


def test_touches_of_others_are_left_out_of_the_sums() -> None:
    others = [replace(touch(1), player="zed"), replace(touch(1), play="gone")]
    book = ledger([others[0], touch(1), others[1]], ("ada",), ("lantern",), DEFAULTS)
    assert book.cell.tolist() == [ROLES.index("4")]
    assert book.gain.tolist() == [1.0]


@pytest.mark.parametrize(("ready", "mark"), [(0.438, "fading"), (0.4388, "learning")])
def test_who_was_ready_the_evening_after_a_practice_is_fading_later(
    ready: float, mark: str
) -> None:
    # One live rep at noon is 1.25 days old the next evening at 18:00 (UTC): 1.25 ** -0.5 =
    # 0.8944 ** (1 / 0.45) = 0.7804, of 1.7804 0.4383.
    book = ledger([touch(30)], ("ada",), ("lantern",), replace(DEFAULTS, ready=ready))
    assert str(standings(book, GAME)[0, 0, ROLES.index("4")]) == mark


def test_a_practice_of_others_changes_no_mark() -> None:
    """Ada's live rep at two in the night stands at .61 in the evening, 16 hours later, and the
    evening after, 40 hours old, at 1.6667 ** -0.5 = 0.7746 ** (1 / 0.45) = 0.5669, of 1.5669
    0.3618. The first of these is the evening after a practice of Bo's, and of none of hers."""
    night = replace(touch(0), at=GAME - timedelta(days=30, hours=10))
    before = replace(touch(31), player="bo")
    for history in ([night], [before, night]):
        book = ledger(history, ("ada", "bo"), ("lantern",), replace(DEFAULTS, ready=0.43))
        assert str(standings(book, GAME)[0, 0, ROLES.index("4")]) == "learning"


@pytest.mark.parametrize("seed", range(20))
def test_the_mark_of_one_cell_is_the_grids(seed: int) -> None:
    chance_of = random.Random(seed)
    players, plays = ("ada", "bo", "cy"), ("lantern", "anchor")
    history = [
        Touch(
            chance_of.choice(players),
            chance_of.choice(plays),
            chance_of.choice(ROLES),
            f"p{day:.0f}",
            GAME - timedelta(days=day),
            chance_of.choice(list(Mode)),
            chance_of.random() < 0.7,
            chance_of.randint(1, 6),
        )
        for day in (chance_of.uniform(-2, 40) for _ in range(60))
    ]
    book = ledger(history, players, plays, DEFAULTS, Offsets({"ada": 0.4}, {"anchor": -0.3}))
    marks = standings(book, GAME)
    for i, who in enumerate(players):
        for k, play in enumerate(plays):
            for n, role in enumerate(ROLES):
                found = mark_of(history, (who, play, role), GAME, DEFAULTS, book.offsets)
                assert found == marks[i, k, n]
    assert len(set(marks.ravel())) == len(ReadinessMark)


# --- the folds ----------------------------------------------------------------------------


def test_a_fold_with_nothing_before_it_is_no_forecast() -> None:
    """Four practices: cells are graded from their second one on, so that of five shares of the
    last 60 % the first have no past with a graded rep."""
    history = [
        replace(touch(8 - 2 * n), practice=n, role=role, player=f"p{role}", clean=n % 2 == 0)
        for n in range(4)
        for role in ROLES
    ]
    rows = rows_of(history, DEFAULTS)
    assert rows.graded == 15
    scores = walk_forward(rows, DEFAULTS)
    assert scores.count == 10  # the third and the fourth practice; the second has no past
