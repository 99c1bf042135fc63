"""Points a possession: counted by hand, held to scipy, to drawn samples and to known seasons."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from practice.core.learning.points import (
    VALUES,
    Numbers,
    comparison_text,
    even_weights,
    fouls_text,
    middle_for,
    points_by_play,
    points_text,
    pooled,
    shrinking,
    spread_over,
)
from practice.core.reps.called import CalledPlay, CallResult, Take
from shared.core.language import ENGLISH
from tests.practice.core.learning.seasons import possession

SEASONS = 2000
USUAL = np.array([0.56, 0.05, 0.30, 0.09])  # our choice: 0.92 points a possession
COUNTS = np.array([[8, 1, 6, 0], [3, 0, 2, 4], [12, 1, 1, 0], [1, 0, 1, 0]], dtype=np.float64)


def called(play: str, *points: int) -> list[CalledPlay]:
    return [possession(play, look="1", points=value) for value in points]


def test_counts_by_hand() -> None:
    lost = possession("a", taken=Take.BROKEN, result=CallResult.TURNOVER)
    again = possession("a", taken=Take.NONE, result=CallResult.RESET)
    late = possession("a", taken=Take.NONE, result=CallResult.FIVE_SECONDS)
    foul = possession("a", look="1", result=CallResult.FOUL, points=1)
    open_foul = possession("a", look="1", result=CallResult.FOUL, points=None)
    [one, other] = points_by_play(
        [*called("a", 2, 3, 0), lost, again, late, foul, open_foul, *called("b", 2)]
    )
    assert (one.play, one.by_value, one.unknown) == ("a", (4, 1, 1, 1), 1)
    assert (one.possessions, one.points) == (7, 6)
    assert (other.play, other.possessions) == ("b", 1)


def test_nothing_is_said_in_numbers_below_five_possessions() -> None:
    [four, five] = points_by_play([*called("a", 2, 0, 0, 3), *called("b", 2, 0, 0, 3, 0)])
    assert (four.mean, four.inside) == (None, None)
    assert points_text(four, ENGLISH) == "4 possessions, points: 5."
    assert five.mean is not None
    assert points_text(five, ENGLISH).startswith(
        "5 possessions, points: 5. With the team's other calls beside it: "
    )
    assert points_by_play([]) == ()


def test_a_play_is_drawn_to_the_team_the_more_the_fewer_its_calls() -> None:
    team = called("usual", *[0, 2] * 40)
    few, many = called("few", *[3] * 5), called("many", *[3] * 40)
    means = {each.play: each.mean for each in points_by_play([*team, *few, *many])}
    assert means["few"] is not None
    assert means["many"] is not None
    assert 1.0 < means["few"] < means["many"] < 3.0


def test_how_much_the_team_weighs_is_the_likelihood_of_scipy() -> None:
    weights = even_weights(COUNTS.sum(axis=1))
    middles = middle_for(weights, COUNTS)
    shares = weights / (weights + COUNTS.sum(axis=1).mean())
    log = [
        sum(
            stats.dirichlet_multinomial.logpmf(own.astype(int), w * m / m.sum(), int(own.sum()))
            for own in COUNTS
        )
        for w, m in zip(weights, middles, strict=True)
    ]
    reference = np.exp(np.array(log) - max(log)) * (1 - shares)
    assert shrinking(weights, middles, COUNTS) == pytest.approx(reference / reference.sum())


def test_the_middle_of_plays_that_do_not_differ_is_that_of_all_possessions() -> None:
    [alike] = middle_for(np.array([1e9]), COUNTS)
    assert alike == pytest.approx(COUNTS.sum(axis=0) + 0.5)
    # Kish: with a weight of 1 half the spread is between plays; 9 possessions count as 9/5.
    [apart] = middle_for(np.array([1.0]), COUNTS[1:2])
    assert apart == pytest.approx(COUNTS[1] / 5 + 0.5)


@pytest.mark.parametrize("alpha", [(8, 1, 6, 1), (3.5, 0.5, 2.5, 4.5), (20, 1, 2, 1)])
def test_the_range_is_that_of_drawn_samples(alpha: tuple[float, ...]) -> None:
    """The Beta with the same moments stands in for the Dirichlet's mean: off by .03 at most."""
    drawn = np.random.default_rng(3).dirichlet(alpha, 200_000) @ VALUES
    mean, inside = spread_over(float(drawn.mean()), float(drawn.var()))
    low, high = np.quantile(drawn, [0.05, 0.95])
    assert mean == pytest.approx(np.dot(alpha, VALUES) / sum(alpha), abs=0.01)
    assert (inside.low, inside.high) == pytest.approx((low, high), abs=0.03)


def test_before_the_first_possession_all_is_possible() -> None:
    [(mean, inside)] = pooled(np.zeros((1, 4)))
    assert mean == pytest.approx(1.5)
    assert inside.high - inside.low > 1.5


def season(draw: np.random.Generator, weight: float) -> tuple[Numbers, Numbers]:
    """Counts of twelve plays with 5 to 25 calls each, and what each is truly worth."""
    team = draw.dirichlet(USUAL * 60)
    truth = draw.dirichlet(weight * team, 12)
    calls = draw.integers(5, 26, 12).tolist()
    counts = [draw.multinomial(n, own) for n, own in zip(calls, truth, strict=True)]
    return np.array(counts, dtype=np.float64), truth @ VALUES


def test_nine_of_ten_ranges_hold_the_truth_in_2000_seasons() -> None:
    """Plays that differ much (a spread of .37 points) to little (.17)."""
    draw = np.random.default_rng(20261127)
    hits: dict[float, list[bool]] = {8.0: [], 15.0: [], 25.0: [], 40.0: []}
    for n in range(SEASONS):
        weight = list(hits)[n % len(hits)]
        counts, truth = season(draw, weight)
        for (_, inside), true in zip(pooled(counts), truth, strict=True):
            hits[weight].append(inside.low <= true <= inside.high)
    assert 0.87 <= np.mean([hit for own in hits.values() for hit in own]) <= 0.93
    assert all(0.87 <= np.mean(own) <= 0.94 for own in hits.values())


def test_drawn_in_a_play_is_nearer_to_the_truth_than_its_own_average() -> None:
    draw = np.random.default_rng(9)
    own = team = 0.0
    for _ in range(200):
        counts, truth = season(draw, 20.0)
        raw = counts @ VALUES / counts.sum(axis=1)
        means = np.array([mean for mean, _ in pooled(counts)])
        own += float(((raw - truth) ** 2).mean())
        team += float(((means - truth) ** 2).mean())
    assert team < 0.75 * own


def test_what_is_left_out_and_what_professionals_make_is_said() -> None:
    open_fouls = [possession("a", look="1", result=CallResult.FOUL, points=None)] * 2
    [one] = points_by_play(open_fouls)
    assert fouls_text(one, ENGLISH).startswith("2 possessions ended in fouls")
    [none] = points_by_play(called("a", 2))
    assert fouls_text(none, ENGLISH) == ""
    assert "0.87" in comparison_text(ENGLISH)
    assert "not as a target" in comparison_text(ENGLISH)
