"""Guess against games: held to scipy and to seasons of right guesses."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import betabinom

from plays.core.defence.stance import Tactic
from practice.core.learning.disagree import (
    disagreement_text,
    disagreements,
    two_sided,
)
from practice.core.learning.looks import LookCount, LookEstimate
from practice.core.proportions import Belief, from_guess
from shared.core.language import ENGLISH

LOOKS = 90
GUESSES = [0.2, 0.35, 0.5, 0.65, 0.8] * 18


def estimate(guess: float | None, there: int, reached: int, look: str = "1") -> LookEstimate:
    bare = Belief(0.5, 0.5)
    return LookEstimate(look, None, LookCount(reached, there), guess, bare, bare)


def test_nothing_to_weigh_is_nothing_called() -> None:
    assert disagreements([]) == ()
    assert disagreements([estimate(None, 0, 30), estimate(0.9, 0, 0)]) == ()


def test_the_chance_of_a_log_is_that_of_the_beta_binomial() -> None:
    # Of 20 with a guess of 8 in 10, worth 5: scipy.stats.betabinom.
    assert two_sided(0.8, 4, 20) == pytest.approx(2 * betabinom.cdf(4, 20, 4, 1), rel=1e-9)
    assert two_sided(0.8, 16, 20) == pytest.approx(2 * betabinom.cdf(16, 20, 4, 1), rel=1e-9)
    assert two_sided(0.5, 10, 20) == 1.0


def season(draw: np.random.Generator) -> list[LookEstimate]:
    """Ninety looks whose truth is spread around the guess as much as a guess is trusted."""
    told = []
    for n, guess in enumerate(GUESSES):
        belief = from_guess(guess)
        reached = int(draw.integers(1, 31))
        there = int(draw.binomial(reached, draw.beta(belief.a, belief.b)))
        told.append(estimate(guess, there, reached, str(n)))
    return told


def chance_of(each: LookEstimate) -> float:
    assert each.guess is not None
    return two_sided(each.guess, each.count.there, each.count.reached)


def test_right_guesses_are_called_wrong_in_one_season_of_four_at_most() -> None:
    draw = np.random.default_rng(11)
    seasons = [season(draw) for _ in range(300)]
    assert all(len(told) == LOOKS for told in seasons)
    cried = [len(disagreements(told)) for told in seasons]
    assert np.mean([bool(n) for n in cried]) <= 0.25
    # At one in twenty for each look, nearly every season would hear of some.
    plain = [sum(chance_of(each) < 0.05 for each in told) for told in seasons]
    assert np.mean([bool(n) for n in plain]) >= 0.75


def test_half_of_the_guesses_that_are_far_off_are_found() -> None:
    draw = np.random.default_rng(12)
    reached = draw.integers(8, 31, 1000).tolist()
    wrong = [estimate(0.9, int(draw.binomial(n, 0.3)), n) for n in reached]
    assert 0.4 <= len(disagreements(wrong)) / 1000 <= 0.6


def test_a_wrong_guess_is_found_among_ninety_looks_and_told() -> None:
    right = [estimate(guess, round(guess * 12), 12, str(n)) for n, guess in enumerate(GUESSES)]
    wrong = estimate(0.9, 2, 30, "wrong")
    [found] = disagreements([wrong, *right])
    assert found.estimate is wrong
    assert found.rarer
    assert disagreement_text(found, ENGLISH) == (
        "You guessed that it is there 9 times in 10. In games it is there less often:"
        " 2 of the 30 times the play came to it."
    )
    [other] = disagreements([estimate(0.1, 26, 30)])
    assert "oftener: 26 of the 30" in disagreement_text(other, ENGLISH)


def test_the_worst_comes_first_and_a_defence_alone_is_not_weighed() -> None:
    bad, worse = estimate(0.9, 4, 30, "bad"), estimate(0.9, 1, 30, "worse")
    two = disagreements([bad, worse, replace(worse, defence=Tactic.ZONE)])
    assert [each.estimate for each in two] == [worse, bad]
