"""Calibration: known parameters found again, honest scores, and no claim without proof."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from scipy.optimize import approx_fprime
from scipy.stats import beta

from plays.core.play import ROLES
from practice.core.readiness.assumptions import Assumptions, Offsets
from practice.core.readiness.calibration import (
    ENOUGH_FOR_ALL,
    NOT_LIVE,
    PRIORS,
    Fitted,
    ForecastScore,
    calibrate,
    fit,
    forecasts,
    posterior,
    score_of,
    walk_forward,
)
from practice.core.readiness.calibration_rows import rows_of
from practice.core.readiness.cell import chance, readiness
from practice.core.reps.rep import Id, Mode, Touch
from shared.core.language import ENGLISH

START = datetime(2026, 1, 5, 18, 0, tzinfo=UTC)
DEFAULTS = Assumptions()
PLAYERS: tuple[Id, ...] = tuple(f"p{n}" for n in range(12))
TALENT = {who: 0.35 * math.sin(5 * n) for n, who in enumerate(PLAYERS)}


def season(practices: int, truth: Assumptions, seed: int, *, coin: bool = False) -> list[Touch]:
    """Reps whose results come from the model with known parameters, or from a coin."""
    draw = random.Random(seed)
    history: list[Touch] = []
    for number in range(practices):
        held = START + timedelta(days=2 * number + draw.choice([0, 1]))
        made = []
        for play in draw.sample(["a", "b", "c", "d"], 2):
            five = draw.sample(PLAYERS[:7] if play in "ab" else PLAYERS[5:], 5)
            mode = draw.choice([Mode.WALK_THROUGH, Mode.HALF_SPEED, Mode.LIVE, Mode.LIVE])
            for role, who in zip(ROLES, five, strict=True):
                now = readiness(history, (who, play, role), held, truth)
                sure = chance(now.strength, truth, TALENT[who]) if now.strength else 0.2
                for _ in range(draw.choice([1, 2, 3])):
                    clean = draw.random() < (0.7 if coin else sure)
                    made.append(Touch(who, play, role, number, held, mode, clean))
        history += made
    return history


TRUTH = Assumptions(threshold=0.2, spread=0.5, decay=0.45)


@pytest.fixture(scope="module")
def simulated() -> list[Touch]:
    return season(120, TRUTH, seed=2)


def test_the_rows_hold_what_was_behind_each_cell(simulated: list[Touch]) -> None:
    rows = rows_of(simulated, DEFAULTS)
    strength = rows.strengths(DEFAULTS)
    own = readiness_before_each(simulated)
    assert rows.graded == sum(total for _, total in own)
    assert sorted(strength.tolist()) == pytest.approx(sorted(value for value, _ in own))


def readiness_before_each(history: list[Touch]) -> list[tuple[float, int]]:
    """By the formula: strength before each cell, practice and mode, and its reps."""
    found = []
    groups: dict[tuple[Id, Id, str, Id, Mode], list[Touch]] = {}
    for touch in history:
        key = touch.player, touch.play, touch.role, touch.practice, touch.mode
        groups.setdefault(key, []).append(touch)
    for same in groups.values():
        one = same[0]
        before = [touch for touch in history if touch.at < one.at]
        now = readiness(before, (one.player, one.play, one.role), one.at, DEFAULTS)
        if now.strength > 0:
            found.append((now.strength, len(same)))
    return found


def test_the_slopes_of_the_fit_are_right(simulated: list[Touch]) -> None:
    rows = rows_of(simulated[:900], DEFAULTS)
    size = len(PRIORS) + len(NOT_LIVE) + len(rows.players)
    middle = np.array([getattr(DEFAULTS, name) for name, _, _ in PRIORS])
    middle = np.append(middle, np.zeros(size - len(PRIORS)))
    value = posterior(rows, DEFAULTS, middle, np.full(size, 0.3))
    x = middle + 0.05 * np.cos(np.arange(size))
    numeric = approx_fprime(x, lambda y: value(y)[0], 1e-6)
    np.testing.assert_allclose(value(x)[1], numeric, rtol=1e-3, atol=2e-2)


def test_known_parameters_are_found_again(simulated: list[Touch]) -> None:
    found = fit(rows_of(simulated, DEFAULTS), DEFAULTS)
    assert found.assumptions.threshold == pytest.approx(TRUTH.threshold, abs=0.2)
    assert found.assumptions.spread == pytest.approx(TRUTH.spread, abs=0.12)
    assert found.assumptions.decay == pytest.approx(TRUTH.decay, abs=0.12)
    wanted = [TALENT[who] for who in PLAYERS]
    fitted = [found.offsets.players[who] for who in PLAYERS]
    assert np.corrcoef(wanted, fitted)[0, 1] > 0.8


def test_a_club_that_follows_the_model_is_calibrated(simulated: list[Touch]) -> None:
    found = calibrate(simulated, DEFAULTS, ENGLISH)
    assert found.scores is not None
    assert found.calibrated, found.scores
    assert found.fit == found.candidate
    assert found.sentence == f"Calibrated on {found.graded} graded reps of this club."
    assert found.scores.fitted.beats(found.scores.defaults)


def test_results_from_a_coin_are_never_calibrated() -> None:
    for seed in range(3):
        found = calibrate(season(60, TRUTH, seed, coin=True), DEFAULTS, ENGLISH)
        assert not found.calibrated
        assert found.fit == Fitted(DEFAULTS, Offsets())
        assert found.candidate != found.fit
        assert found.sentence.startswith("Not calibrated yet: on later reps it does not beat")


def test_few_reps_fit_nothing_and_say_how_many_are_needed() -> None:
    found = calibrate(season(6, TRUTH, seed=1), DEFAULTS, ENGLISH)
    assert (found.calibrated, found.scores, found.fit.assumptions) == (False, None, DEFAULTS)
    assert "150 are needed" in found.sentence
    assert calibrate([], DEFAULTS, ENGLISH).graded == 0


def test_below_five_hundred_reps_only_the_players_move(simulated: list[Touch]) -> None:
    rows = rows_of(simulated, DEFAULTS)
    few = rows.only(np.cumsum(rows.total) < ENOUGH_FOR_ALL - 50)
    found = fit(few, DEFAULTS)
    assert found.assumptions == DEFAULTS
    assert set(found.harder) == {0.0}
    assert any(abs(value) > 0.05 for value in found.offsets.players.values())


def test_no_forecast_looks_ahead(simulated: list[Touch]) -> None:
    rows = rows_of(simulated, DEFAULTS)
    early = rows.only(rows.practice < 40)
    before = rows_of([t for t in simulated if int(t.practice) < 40], DEFAULTS)
    np.testing.assert_allclose(early.strengths(DEFAULTS), before.strengths(DEFAULTS))
    np.testing.assert_array_equal(early.last_three, before.last_three)
    fold = rows.only(rows.practice >= 40)
    spoilt = replace(fold, clean=fold.total - fold.clean)
    np.testing.assert_array_equal(fold.player_rate(early), spoilt.player_rate(early))
    plain = Fitted(DEFAULTS, Offsets())
    np.testing.assert_array_equal(forecasts(fold, plain), forecasts(spoilt, plain))


def test_the_scores_by_hand() -> None:
    # 0.8 for three clean reps of four: (3 * 0.2231 + 1.6094) / 4; (3 * 0.04 + 0.64) / 4.
    found = score_of(np.array([0.8]), np.array([3.0]), np.array([4.0]))
    assert found.log_loss == pytest.approx(0.5697, abs=1e-4)
    assert found.brier == pytest.approx(0.19)


def test_the_scores_are_of_later_reps_only() -> None:
    rows = rows_of(season(40, TRUTH, seed=5), DEFAULTS)
    scores = walk_forward(rows, DEFAULTS)
    assert 0 < scores.fitted.brier < 0.25
    assert 0 < scores.fitted.log_loss < math.log(2) * 1.2
    assert scores.count < rows.graded
    assert ForecastScore(0.5, 0.2).beats(ForecastScore(0.6, 0.21))
    assert not ForecastScore(0.5, 0.22).beats(ForecastScore(0.6, 0.21))
    assert not ForecastScore(0.5, 0.21).beats(ForecastScore(0.6, 0.21)), "a tie is no proof"
    assert not ForecastScore(0.6, 0.20).beats(ForecastScore(0.6, 0.21))


def test_a_mode_that_asks_more_is_forecast_to_go_clean_less_often(simulated: list[Touch]) -> None:
    rows = rows_of(simulated, DEFAULTS)
    walked = rows.mode == list(Mode).index(Mode.WALK_THROUGH)
    harder = tuple(0.4 if mode is Mode.WALK_THROUGH else 0.0 for mode in Mode)
    plain, asked = (
        forecasts(rows, Fitted(DEFAULTS, Offsets(), more)) for more in ((0.0,) * 4, harder)
    )
    assert (asked[walked] < plain[walked]).all()
    np.testing.assert_array_equal(asked[~walked], plain[~walked])


def test_a_players_own_rate_is_the_mean_of_the_beta_posterior(simulated: list[Touch]) -> None:
    """scipy's beta distribution; ten reps at everybody's rate stand before a player's own."""
    rows = rows_of(simulated, DEFAULTS)
    clean, total = rows.clean, rows.total
    everybody = beta(1 + clean.sum(), 1 + (total - clean).sum()).mean()
    for n in range(len(rows.players)):
        own = rows.player == n
        good, bad = clean[own].sum(), (total - clean)[own].sum()
        wanted = beta(10 * everybody + good, 10 * (1 - everybody) + bad).mean()
        assert rows.player_rate(rows)[own] == pytest.approx(wanted)


def test_what_is_said_of_too_few_reps_and_of_a_lost_race() -> None:
    found = calibrate([], DEFAULTS, ENGLISH)
    assert found.sentence == "Not calibrated yet: 0 graded reps, 150 are needed."
    assert found.candidate == found.fit == Fitted(DEFAULTS, Offsets())
    coin = calibrate(season(60, TRUTH, 0, coin=True), DEFAULTS, ENGLISH)
    assert coin.scores is not None
    baselines = (
        ("each player's own rate", coin.scores.player_rate),
        ("the last three reps", coin.scores.last_three),
    )
    lost = [name for name, other in baselines if not coin.scores.fitted.beats(other)]
    assert lost
    said = f"Not calibrated yet: on later reps it does not beat {' and '.join(lost)}."
    assert coin.sentence == said
