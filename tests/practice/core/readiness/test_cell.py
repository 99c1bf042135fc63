"""Readiness against base-level learning as published, and the grid against the formula."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize

from plays.core.play import ROLES
from practice.core.readiness.assumptions import (
    ORIGINS,
    Assumptions,
    Offsets,
    check_assumptions,
    from_json,
    to_json,
)
from practice.core.readiness.cell import (
    Cell,
    chance,
    curve,
    in_hundred,
    readiness,
    reps_needed,
    sampled,
    strength_for,
)
from practice.core.readiness.grid import ReadinessMark, grid, ledger, over_time, standings
from practice.core.reps.rep import Id, Mode, Touch
from shared.core.language import ENGLISH

GAME = datetime(2026, 3, 20, 12, 0, tzinfo=UTC)
CELL: Cell = ("ada", "lantern", "4")
DEFAULTS = Assumptions()


def touch(days: float, mode: Mode = Mode.LIVE, *, clean: bool = True, key: Id = "") -> Touch:
    at = GAME - timedelta(days=days)
    return Touch("ada", "lantern", "4", key or f"p{days}", at, mode, clean)


def on_game_day(history: list[Touch], assumptions: Assumptions = DEFAULTS) -> float:
    return readiness(history, CELL, GAME, assumptions).value


# --- base-level learning, by hand ---------------------------------------------------------


def test_base_level_of_three_ages_by_hand() -> None:
    # ln(1 + 2**-0.5 + 5**-0.5) = 0.7675; 1 / (1 + exp(-0.7675 / 0.5)) = 0.8227.
    plain = Assumptions(massing=1.0, spread=0.5)
    found = readiness([touch(1), touch(2), touch(5)], CELL, GAME, plain)
    assert math.log(found.strength) == pytest.approx(0.7675, abs=1e-4)
    assert found.value == pytest.approx(0.8227, abs=1e-4)


def test_four_live_reps_massed_and_spread() -> None:
    massed = [touch(1, key="one") for _ in range(4)]
    spread = [touch(days) for days in (7, 5, 3, 1)]
    assert readiness(massed, CELL, GAME, DEFAULTS).strength == pytest.approx(2.0)
    assert on_game_day(massed) == pytest.approx(0.8235, abs=2e-4)
    assert readiness(spread, CELL, GAME, DEFAULTS).strength == pytest.approx(2.4025, abs=2e-4)
    assert on_game_day(spread) == pytest.approx(0.8752, abs=2e-4)
    assert on_game_day(massed, Assumptions(massing=1.0)) == pytest.approx(0.956, abs=1e-3)


# --- the paired-associates experiment -----------------------------------------------------

# ACT-R tutorial, unit 4, paired associates: 20 pairs, 8 blocks of 200 s; share correct by block.
PAIRED = [0.526, 0.667, 0.798, 0.887, 0.924, 0.958, 0.954]  # blocks 2 to 8


def paired_associates(threshold: float, spread: float) -> list[float]:
    """The model's answer: one exposure in each block, asked at the next one's."""
    second = 1 / 86_400
    # Ages are days here and seconds in the experiment: the unit only moves the threshold.
    moved = threshold + 0.5 * math.log(86_400)
    plain = Assumptions(massing=1.0, spread=spread, threshold=moved, youngest=second)
    answers = []
    for blocks in range(1, 8):
        history = [touch(200 * back * second) for back in range(1, blocks + 1)]
        answers.append(on_game_day(history, plain))
    return answers


def rmse(found: list[float], wanted: list[float]) -> float:
    gaps = [(a - b) ** 2 for a, b in zip(found, wanted, strict=True)]
    return math.sqrt(sum(gaps) / len(gaps))


def test_paired_associates_at_the_stated_parameters() -> None:
    # Refit with two free parameters: threshold -2.635, spread 0.525, RMSE 0.035 (computed).
    found = paired_associates(-2.635, 0.525)
    assert found == pytest.approx([0.493, 0.729, 0.824, 0.872, 0.901, 0.919, 0.932], abs=2e-3)
    assert rmse(found, PAIRED) == pytest.approx(0.035, abs=1e-3)


def test_paired_associates_refit() -> None:
    fit = minimize(
        lambda x: rmse(paired_associates(x[0], math.exp(x[1])), PAIRED),
        [-2.0, math.log(0.4)],
        method="Nelder-Mead",
    )
    assert fit.fun < 0.04
    assert fit.x[0] == pytest.approx(-2.635, abs=0.05)
    assert math.exp(fit.x[1]) == pytest.approx(0.525, abs=0.03)


# --- forgetting ---------------------------------------------------------------------------

# Ebbinghaus 1885, savings in % after so many minutes, as observed; Murre and Dros 2015,
# PLoS ONE 10:e0120644 reprint them beside their replication.
SAVINGS = {20: 58.2, 64: 44.2, 526: 35.8, 1440: 33.7, 2880: 27.8, 8640: 25.4, 44640: 21.1}


def test_the_forgetting_term_follows_the_savings_of_ebbinghaus() -> None:
    # One practice, asked after t: ln S falls by decay * ln t, so logit R is a line in ln t.
    days = np.array(list(SAVINGS)) / 1440
    logit = np.log(np.array(list(SAVINGS.values())) / (100 - np.array(list(SAVINGS.values()))))
    slope, level = np.polyfit(np.log(days), logit, 1)
    fitted = Assumptions(decay=-slope, spread=1.0, threshold=-level, massing=1.0, youngest=1 / 1440)
    for minutes, saved in SAVINGS.items():
        value = 100 * on_game_day([touch(minutes / 1440)], fitted)
        assert value == pytest.approx(saved, abs=5.0)  # 4.5 points at 20 minutes


def test_the_savings_fall_as_slowly_as_a_power_and_not_as_an_exponential() -> None:
    days = np.array(list(SAVINGS)) / 1440
    saved = np.array(list(SAVINGS.values()))
    logit = np.log(saved / (100 - saved))
    power = np.polyfit(np.log(days), logit, 1, full=True)[1][0]
    exponential = np.polyfit(days, logit, 1, full=True)[1][0]
    assert power < exponential / 5


def test_practice_follows_the_power_law() -> None:
    # Newell and Rosenbloom 1981: T = a * N ** -b; a = 10, b = 0.3 gives 10, 5.012, 2.512.
    # Without fading the odds against are exp(threshold / spread) * N ** (-1 / spread).
    spread = 1 / 0.3
    flat = Assumptions(decay=0.0, massing=1.0, spread=spread, threshold=spread * math.log(10))
    for count, wanted in ((1, 10.0), (10, 5.012), (100, 2.512)):
        value = on_game_day([touch(n + 1) for n in range(count)], flat)
        assert (1 - value) / value == pytest.approx(wanted, abs=1e-3)


# --- properties ---------------------------------------------------------------------------

histories = st.lists(
    st.builds(
        touch,
        st.integers(1, 60).map(float),
        st.sampled_from(Mode),
        clean=st.booleans(),
    ),
    max_size=20,
)


@given(histories, st.integers(1, 60).map(float))
def test_another_rep_never_lowers_readiness(history: list[Touch], days: float) -> None:
    assert on_game_day([*history, touch(days)]) >= on_game_day(history)


@given(histories, st.integers(1, 30))
def test_without_new_reps_readiness_only_fades(history: list[Touch], days: int) -> None:
    later = readiness(history, CELL, GAME + timedelta(days=days), DEFAULTS)
    assert later.value <= on_game_day(history) + 1e-12


@given(histories)
def test_the_contributions_add_up_to_the_strength(history: list[Touch]) -> None:
    found = readiness(history, CELL, GAME, DEFAULTS)
    assert found.strength == pytest.approx(sum(c.strength for c in found.contributions))
    assert found.reps == len(history)
    assert list(found.contributions) == sorted(found.contributions, key=lambda c: c.held)


def test_contributions_say_which_reps_they_come_from() -> None:
    history = [
        touch(4, Mode.WALK_THROUGH, key="tue"),
        touch(4, Mode.LIVE, key="tue"),
        touch(4, Mode.LIVE, clean=False, key="tue"),
        touch(2, Mode.HALF_SPEED, key="thu"),
    ]
    tuesday, thursday = readiness(history, CELL, GAME, DEFAULTS).contributions
    assert (tuesday.practice, thursday.practice) == ("tue", "thu")
    assert tuesday.clean == {Mode.WALK_THROUGH: 1, Mode.LIVE: 1}
    assert tuesday.errors == {Mode.LIVE: 1}
    assert tuesday.worth == pytest.approx(0.3 + 1.0 + 0.5)
    assert tuesday.strength == pytest.approx(math.sqrt(1.8) / 2)


def test_reps_of_another_cell_and_of_later_practices_do_not_count() -> None:
    other = Touch("ada", "lantern", "5", "p", GAME - timedelta(days=1), Mode.LIVE, clean=True)
    assert on_game_day([other, touch(-1)]) == 0.0


def test_an_error_teaches_half_and_may_teach_nothing() -> None:
    assert on_game_day([touch(1, clean=False)]) < on_game_day([touch(1)])
    assert on_game_day([touch(1, clean=False)], Assumptions(error=0.0)) == 0.0


def test_the_age_has_a_floor() -> None:
    assert on_game_day([touch(0.01)]) == on_game_day([touch(0.25)])


@given(st.floats(0.01, 0.99), st.floats(-1, 1))
def test_strength_for_is_the_inverse_of_chance(value: float, offset: float) -> None:
    assert chance(strength_for(value, DEFAULTS, offset), DEFAULTS, offset) == pytest.approx(value)


@given(histories, st.sampled_from([Mode.HALF_SPEED, Mode.LIVE]), st.integers(1, 5))
def test_the_reps_needed_reach_the_target_and_one_less_does_not(
    history: list[Touch], mode: Mode, days: int
) -> None:
    now = readiness(history, CELL, GAME, DEFAULTS)
    needed = reps_needed(now, mode, days, DEFAULTS)
    extra = [touch(float(days), mode, key="new") for _ in range(needed)]
    assert on_game_day([*history, *extra]) >= DEFAULTS.ready - 1e-9
    if needed:
        assert on_game_day([*history, *extra[1:]]) < DEFAULTS.ready


def test_a_curve_rises_with_a_practice_and_fades_after_it() -> None:
    moments = [GAME - timedelta(days=days) for days in (6, 4, 2, 0)]
    values = [value for _, value in curve([touch(5), touch(3)], CELL, moments, DEFAULTS)]
    assert values[0] == 0.0
    assert values[2] > values[1] > 0
    assert values[3] < values[2]


# --- the grid -----------------------------------------------------------------------------

PLAYERS = tuple(f"player {n}" for n in range(15))
PLAYS = tuple(f"play {n}" for n in range(40))


def season(reps: int, seed: int) -> list[Touch]:
    chance_of = random.Random(seed)
    made = []
    for _ in range(reps):
        practice = chance_of.randrange(60)
        held = GAME - timedelta(days=60 - practice, minutes=chance_of.randrange(90))
        play, mode = chance_of.choice(PLAYS), chance_of.choice(list(Mode))
        for role, who in zip(ROLES, chance_of.sample(PLAYERS, 5), strict=True):
            made.append(Touch(who, play, role, practice, held, mode, chance_of.random() < 0.8))
    return made


def test_the_grid_equals_the_formula_cell_by_cell() -> None:
    history = season(400, seed=3)
    offsets = Offsets({"player 2": 0.3}, {"play 5": -0.2})
    bringing = Assumptions(carried=0.4)  # what everybody brings along counts in both
    found = grid(ledger(history, PLAYERS, PLAYS, bringing, offsets), GAME)
    chance_of = random.Random(4)
    for _ in range(300):
        cell = chance_of.choice(PLAYERS), chance_of.choice(PLAYS), chance_of.choice(ROLES)
        wanted = readiness(history, cell, GAME, bringing, offsets)
        assert found.at(cell) == pytest.approx(wanted.value, abs=1e-12)


def test_the_grid_over_time_equals_the_grid_on_each_date() -> None:
    book = ledger(season(200, seed=5), PLAYERS, PLAYS, DEFAULTS)
    moments = [GAME - timedelta(days=days) for days in (50, 20, 0)]
    stacked = over_time(book, moments)
    assert stacked.shape == (3, 15, 40, 5)
    for index, moment in enumerate(moments):
        np.testing.assert_array_equal(stacked[index], grid(book, moment).value)
    assert over_time(book, []).shape == (0, 15, 40, 5)


def test_an_empty_log_is_a_grid_of_zeros() -> None:
    book = ledger([], PLAYERS, PLAYS, DEFAULTS)
    assert not grid(book, GAME).value.any()
    assert (standings(book, GAME) == ReadinessMark.NEVER).all()


def test_players_and_plays_not_asked_for_are_left_out() -> None:
    found = grid(ledger(season(100, seed=6), PLAYERS[:2], PLAYS[:3], DEFAULTS), GAME)
    assert found.value.shape == (2, 3, 5)


def test_standings_tell_never_learning_ready_and_fading_apart() -> None:
    def part(who: str, days: float, count: int = 1) -> list[Touch]:
        at = GAME - timedelta(days=days)
        return [
            Touch(who, "lantern", "4", f"p{days}", at, Mode.LIVE, clean=True) for _ in range(count)
        ]

    history = [*part("ready", 1, 4), *part("fading", 50, 6), *part("learning", 9)]
    players = ("never", "learning", "ready", "fading")
    marks = standings(ledger(history, players, ("lantern",), DEFAULTS), GAME)
    assert [str(mark) for mark in marks[:, 0, ROLES.index("4")]] == list(players)


# --- the parameters -----------------------------------------------------------------------


def test_every_parameter_is_labelled_and_its_default_is_in_range() -> None:
    assert set(ORIGINS) == set(to_json(DEFAULTS))
    assert check_assumptions(DEFAULTS, ENGLISH) == ()
    assert [name for name, origin in ORIGINS.items() if origin.kind == "published"] == ["decay"]
    assert all(origin.source for origin in ORIGINS.values() if origin.kind == "published")


def test_all_parameters_out_of_range_are_named() -> None:
    odd = Assumptions(decay=9.0, spread=0.0, ready=float("nan"), walk_through=1.5)
    found = check_assumptions(odd, ENGLISH)
    assert [one.place for one in found] == ["/decay", "/spread", "/ready", "/walk_through"]


def test_walking_that_teaches_more_than_playing_is_noted() -> None:
    odd = replace(DEFAULTS, walk_through=0.9, live=0.8)
    assert [one.code for one in check_assumptions(odd, ENGLISH)] == ["modes_order"]
    assert check_assumptions(replace(odd, walk_through=0.8), ENGLISH) == ()


def test_parameters_survive_json() -> None:
    own = Assumptions(decay=0.4, walk_through=0.2)
    assert from_json(to_json(own)) == own
    assert from_json({"decay": 1}) == Assumptions(decay=1.0)
    with pytest.raises(ValueError, match="no parameter"):
        from_json({"speed": 1})
    with pytest.raises(TypeError, match="number"):
        from_json({"decay": "fast"})


def test_just_ready_is_ready_and_who_never_trained_is_told_so_below_that() -> None:
    """The line itself counts as ready, as a pass mark does."""
    at = GAME - timedelta(days=1)
    history = [Touch("just", "lantern", "4", "p1", at, Mode.LIVE, clean=True)]
    four = ROLES.index("4")
    players = ("just", "never")

    def marks(ready: float) -> list[str]:
        book = ledger(history, players, ("lantern",), replace(DEFAULTS, ready=ready))
        return [str(mark) for mark in standings(book, GAME)[:, 0, four]]

    value = grid(ledger(history, players, ("lantern",), DEFAULTS), GAME).value[0, 0, four]
    assert marks(float(value)) == ["ready", "never"]
    assert marks(float(value) + 1e-6) == ["learning", "never"]


@pytest.mark.parametrize(
    ("chance_of_all", "said"),
    [
        (0.0, "all five right less than twice in 100"),
        (0.0199, "all five right less than twice in 100"),
        (0.02, "all five right about 2 times in 100"),
    ],
)
def test_a_small_chance_is_said_as_it_is(chance_of_all: float, said: str) -> None:
    assert in_hundred(chance_of_all, ENGLISH) == said


def test_a_curve_is_sampled_on_both_sides_of_a_rep() -> None:
    first = datetime(2026, 3, 1, tzinfo=UTC)
    last, rep = first + timedelta(hours=4), first + timedelta(minutes=90)
    later = last + timedelta(days=1)
    assert sampled(first, last, [rep, later], 4) == (
        first,
        first + timedelta(hours=1),
        rep - timedelta(seconds=1),
        rep,
        *(first + timedelta(hours=hour) for hour in (2, 3)),
        last,
    )
