"""The index against games: known curves found again, and no claim without proof."""

from __future__ import annotations

import numpy as np
import pytest

from plays.core.defence.stance import Tactic
from practice.core.learning.index import (
    FEWEST,
    LookTry,
    calibrate_index,
    fit_index,
    index_of,
    tries,
    walk_forward_index,
)
from practice.core.reps.called import Take
from shared.core.language import ENGLISH
from tests.practice.core.learning.seasons import in_a_row, possession


def games(
    seed: int, count: int, *, level: float, slope: float, guess_off: float = 0.0
) -> list[LookTry]:
    """Looks of twelve plays over twenty games, there as a curve over the index says."""
    draw = np.random.default_rng(seed)
    offsets = draw.normal(0.0, 0.3, 12)
    made = []
    for n in range(count):
        play, index = int(draw.integers(12)), float(draw.uniform(0.05, 0.95))
        odds = level + slope * np.log(index / (1 - index)) + offsets[play]
        chance = 1 / (1 + np.exp(-odds))
        guess = float(np.clip(chance + draw.normal(guess_off, 0.05), 0.05, 0.95))
        made.append(LookTry(n * 20 // count, play, index, guess, bool(draw.random() < chance)))
    return made


def test_a_known_curve_is_found_again() -> None:
    found = fit_index(games(3, 4000, level=-0.6, slope=1.4))
    assert (found.level, found.slope) == pytest.approx((-0.6, 1.4), abs=0.2)
    assert found.chance(0.9, 1) > found.chance(0.3, 1)
    plain = 1 / (1 + np.exp(-found.level))
    assert found.chance(0.5, "a play of which nothing is known") == pytest.approx(plain)


def test_too_few_looks_are_no_ground() -> None:
    told = calibrate_index(games(4, FEWEST - 1, level=0.0, slope=1.0), ENGLISH)
    assert (told.fit, told.scores) == (None, None)
    assert told.sentence == ("Not calibrated yet: 149 looks were judged in games, 150 are needed.")


def test_it_is_used_where_it_beats_guess_and_average() -> None:
    told = calibrate_index(games(5, 900, level=-0.8, slope=1.2, guess_off=0.3), ENGLISH)
    assert told.scores is not None
    assert told.fit is not None
    assert told.scores.fitted.brier < min(told.scores.guess.brier, told.scores.own_average.brier)
    assert told.sentence == (
        "Calibrated on 900 looks of this club's games: on later games it beats the coach's guess"
        " and the play's own average."
    )


def test_it_is_not_used_where_the_coach_knows_better() -> None:
    told = calibrate_index(games(16, 900, level=-0.8, slope=1.2), ENGLISH)
    assert told.fit is None
    assert "does not beat the coach's guess" in told.sentence


def test_it_is_not_used_where_the_index_says_nothing() -> None:
    told = calibrate_index(games(7, 600, level=0.2, slope=0.0, guess_off=0.3), ENGLISH)
    assert told.fit is None
    assert "the play's own average" in told.sentence


def test_luck_passes_for_a_gain_in_one_season_of_twenty() -> None:
    """Where the index says nothing; the fit knows as much as the play's own average."""
    used = [
        calibrate_index(games(seed, 300, level=0.2, slope=0.0, guess_off=0.3), ENGLISH).fit
        for seed in range(100, 180)
    ]
    assert sum(fit is not None for fit in used) / len(used) <= 0.05


def test_every_forecast_is_of_a_later_game() -> None:
    judged = games(8, 400, level=0.0, slope=1.0)
    scores = walk_forward_index(judged)
    later = [each for each in judged if int(each.game) >= 8]  # .4 of twenty games come before
    assert scores.count == len(later)
    # What is still to come changes no forecast for the games before it.
    turned = [
        LookTry(e.game, e.play, e.index, e.guess, e.there is (int(e.game) < 18)) for e in judged
    ]
    early = walk_forward_index([e for e in judged if int(e.game) < 10])
    assert early == walk_forward_index([e for e in turned if int(e.game) < 10])


def test_looks_are_judged_as_far_as_they_were_reached_and_have_an_index() -> None:
    order = in_a_row(0.5, None, 0.3)
    calls = [
        possession("a", look="2", defence=Tactic.SWITCH, game=2),
        possession("a", taken=Take.NONE, game=1),
        possession("b", look="1", game=3),
    ]
    value = index_of(
        {
            ("a", "1", Tactic.CHASE): 0.6,
            ("a", "1", Tactic.SWITCH): 0.2,
            ("a", "2", Tactic.SWITCH): 0.4,
        }
    )
    assert tries(calls, {("a", None): order}, value) == [
        LookTry(1, "a", 0.6, 0.5, False),
        LookTry(2, "a", 0.2, 0.5, False),
        LookTry(2, "a", 0.4, None, True),
    ]
