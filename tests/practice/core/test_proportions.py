"""Intervals and guesses against published and independently computed values."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from practice.core.proportions import (
    Belief,
    chance_of,
    from_guess,
    surprise,
    wilson,
)

# Newcombe 1998, Stat Med 17:857, Table I (from memory); the same four rows by
# statsmodels.stats.proportion.proportion_confint.
WILSON = [
    (81, 263, 0.2553, 0.3662),
    (0, 20, 0.0, 0.1611),
    (1, 29, 0.0061, 0.1718),
    (7, 10, 0.3968, 0.8922),
    (9, 10, 0.5958, 0.9821),
]


@pytest.mark.parametrize(("clean", "total", "low", "high"), WILSON)
def test_wilson(clean: int, total: int, low: float, high: float) -> None:
    found = wilson(clean, total)
    assert (found.low, found.high) == pytest.approx((low, high), abs=5e-5)


@given(st.integers(1, 200).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
def test_wilson_equals_scipy(counts: tuple[int, int]) -> None:
    clean, total = counts
    reference = stats.binomtest(clean, total).proportion_ci(method="wilson")
    found = wilson(clean, total)
    assert (found.low, found.high) == pytest.approx((reference.low, reference.high), abs=1e-9)


@given(st.integers(2, 200).flatmap(lambda n: st.tuples(st.integers(1, n - 1), st.just(n))))
def test_the_range_of_a_belief_is_jeffreys_interval_by_statsmodels(counts: tuple[int, int]) -> None:
    clean, total = counts
    reference = proportion_confint(clean, total, alpha=0.05, method="jeffreys")
    found = Belief(clean + 0.5, total - clean + 0.5).interval(0.95)
    assert (found.low, found.high) == pytest.approx(reference, abs=1e-9)


def test_senseless_counts_are_refused_and_no_data_says_nothing() -> None:
    with pytest.raises(ValueError, match="no count"):
        wilson(3, 2)
    with pytest.raises(ValueError, match="no count"):
        wilson(-1, 2)
    assert (wilson(0, 0).low, wilson(0, 0).high) == (0.0, 1.0)


def test_a_guess_of_nine_in_ten_moves_with_the_log() -> None:
    said = from_guess(0.9, 10)
    assert (said.a, said.b) == (9, 1)
    # Computed with scipy.stats.beta: 90 % of Beta(9, 1), Beta(12, 6).
    assert (said.interval().low, said.interval().high) == pytest.approx((0.717, 0.994), abs=1e-3)
    now = said.after(3, 8)
    assert now.mean == pytest.approx(0.6667, abs=1e-4)
    assert (now.interval().low, now.interval().high) == pytest.approx((0.478, 0.834), abs=1e-3)
    assert now.below(0.8) == pytest.approx(0.894, abs=1e-3)
    assert from_guess(0.9, 5).after(3, 8).mean == pytest.approx(0.577, abs=1e-3)


@given(st.floats(0.5, 20), st.floats(0.5, 20), st.integers(0, 30))
def test_the_beta_binomial_equals_scipy(a: float, b: float, total: int) -> None:
    for clean in range(total + 1):
        reference = float(stats.betabinom.pmf(clean, total, a, b))
        assert chance_of(Belief(a, b), clean, total) == pytest.approx(reference, rel=1e-6)


def test_a_log_far_off_the_guess_is_a_surprise() -> None:
    # Beta-binomial, P(X <= 3 | n = 8, Beta(9, 1)) = 0.0090 (computed with scipy.stats).
    assert surprise(from_guess(0.9, 10), 3, 8) == pytest.approx(0.0090, abs=5e-5)
    assert surprise(from_guess(0.9, 10), 7, 8) > 0.3


def test_a_guess_is_capped_and_never_certain() -> None:
    assert from_guess(0.5, 500).worth == 10
    assert from_guess(1.0).b == 0.5
    assert from_guess(0.0).a == 0.5
    with pytest.raises(ValueError, match="between 0 and 1"):
        from_guess(1.2)


@pytest.mark.parametrize(("clean", "total"), [(3, 2), (-1, 4), (0, -1)])
def test_counts_that_cannot_be_are_refused(clean: int, total: int) -> None:
    for asked in (chance_of, surprise):
        with pytest.raises(ValueError, match="of"):
            asked(Belief(1.0, 1.0), clean, total)
