"""Reps counted by age: the counts by hand, the fit by statsmodels, and when it is told of."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
import statsmodels.api as sm

from practice.core.readiness import calibration
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.by_age import (
    LEVEL_SPREAD,
    MODE_SPREAD,
    PLAYER_SPREAD,
    WINDOW_SPREAD,
    WINDOWS,
    by_age_forecasts,
    design_of,
)
from practice.core.readiness.calibration import ForecastScore, calibrate, walk_forward
from practice.core.readiness.calibration_rows import MODES, rows_of
from practice.core.reps.rep import Id, Mode, Touch
from shared.core.language import ENGLISH

START = datetime(2026, 1, 5, 18, 0, tzinfo=UTC)
DEFAULTS = Assumptions()


def touch(day: int, *, clean: bool, count: int = 1, who: Id = "ida") -> Touch:
    at = START + timedelta(days=day)
    return Touch(who, "a", "1", day, at, Mode.LIVE, clean, count)


def season(practices: int, seed: int) -> list[Touch]:
    """Ten players whose reps are clean the oftener the more of the last week's were."""
    draw = np.random.default_rng(seed)
    history: list[Touch] = []
    for day in range(0, 2 * practices, 2):
        for player in range(10):
            own = [t for t in history if t.player == player and day - int(t.practice) <= 7]
            good = math.log1p(sum(t.clean for t in own))
            bad = math.log1p(sum(not t.clean for t in own))
            sure = 1 / (1 + math.exp(-(0.3 + 0.9 * good - 1.2 * bad)))
            history += [touch(day, clean=bool(draw.random() < sure), who=player) for _ in range(2)]
    return history


def test_counts_by_hand() -> None:
    reps = [
        touch(0, clean=True, count=3),
        touch(10, clean=False),
        touch(10, clean=True),
        touch(11, clean=True),
    ]
    design = design_of(rows_of(reps, DEFAULTS))
    assert design.shape == (2, 1 + 2 * len(WINDOWS) + len(MODES) + 1)
    # On day 10: nothing young, three clean of three within the month and ever.
    three = math.log(4)
    assert design[0, 1:9] == pytest.approx([0, 0, 0, 0, three, three, three, three])
    # On day 11: one of two the day before, and of the last week; four of five ever.
    one, two, four, five = (math.log(1 + n) for n in (1, 2, 4, 5))
    assert design[1, 1:9] == pytest.approx([one, two, one, two, four, five, four, five])
    assert design[:, 0].tolist() == design[:, -1].tolist() == [1.0, 1.0]
    assert design[:, 9 + MODES.index(Mode.LIVE)].tolist() == [1.0, 1.0]


def test_the_forecasts_are_those_of_statsmodels() -> None:
    rows = rows_of(season(20, 1), DEFAULTS)
    past, fold = rows.only(rows.practice < 12), rows.only(rows.practice >= 12)
    design = design_of(past)
    spread = np.array(
        [LEVEL_SPREAD]
        + [WINDOW_SPREAD] * 8
        + [MODE_SPREAD] * len(MODES)
        + [PLAYER_SPREAD] * len(rows.players)
    )
    each = np.column_stack([past.clean, past.total - past.clean])
    model = sm.GLM(each, design, family=sm.families.Binomial())
    # statsmodels penalises half the squares by alpha, of the mean over the rows.
    ridge = model.fit_regularized(alpha=spread**-2 / len(design), L1_wt=0.0).params
    reference = 1 / (1 + np.exp(-design_of(fold) @ ridge))
    assert by_age_forecasts(past, fold) == pytest.approx(reference, abs=2e-3)


def test_where_the_last_week_decides_it_beats_the_plain_baselines() -> None:
    scores = walk_forward(rows_of(season(60, 2), DEFAULTS), DEFAULTS)
    assert scores.by_age.beats(scores.player_rate)
    assert scores.by_age.beats(scores.last_three)


@pytest.mark.parametrize("better", [True, False])
def test_it_is_told_of_where_it_foretells_better_and_never_used(
    better: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With scores put in its place: which of the two wins is not what is tried here."""
    poor, good, best = (ForecastScore(value, value) for value in (0.6, 0.5, 0.4))

    def scored(rows: object, assumptions: object) -> calibration.Scores:
        by_age = best if better else poor
        return calibration.Scores(100, good, poor, poor, poor, by_age)

    monkeypatch.setattr(calibration, "walk_forward", scored)
    told = calibrate(season(20, 3), DEFAULTS, ENGLISH)
    assert told.calibrated
    assert told.fit == told.candidate
    assert ("newer ones count more, foretells them better still" in told.sentence) is better


def test_what_is_still_to_come_changes_no_forecast() -> None:
    rows = rows_of(season(20, 4), DEFAULTS)
    past, fold = rows.only(rows.practice < 12), rows.only(rows.practice == 12)
    turned = replace(fold, clean=fold.total - fold.clean)
    assert by_age_forecasts(past, fold).tolist() == by_age_forecasts(past, turned).tolist()
