"""Weights held against the recursion of Chen, Dempster & Liu 1994 and full enumeration."""

from __future__ import annotations

from math import comb, prod

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from roster.core.cast import PlayerId
from roster.core.coverage.fives import fives, membership
from roster.core.coverage.weights import BadMinutesError, Floor, floor, shares_of

MINUTES = (30.0, 28, 26, 25, 22, 18, 15, 12, 8, 6, 4, 3, 2, 1)
UNEVEN: dict[PlayerId, float] = dict(enumerate(MINUTES))


def symmetric_sum(odds: list[float], size: int) -> float:
    """R(k, A) by the recursion of Chen, Dempster & Liu 1994, Biometrika 81:457, eq. for R:

    R(k, A) = (1/k) * sum over i = 1..k of (-1)**(i+1) T(i, A) R(k-i, A), T(i, A) = sum w**i.
    (Recursion from memory; checked below against enumeration too.)
    """
    sums = [1.0]
    for k in range(1, size + 1):
        total = sum(
            (-1) ** (i + 1) * sum(w**i for w in odds) * sums[k - i] for i in range(1, k + 1)
        )
        sums.append(total / k)
    return sums[size]


def odds_of(team: int, weights: np.ndarray) -> list[float]:
    """Each player's odds, read off two fives that differ in one player."""
    rows = {tuple(five): weight for five, weight in zip(fives(team).tolist(), weights, strict=True)}
    odds = []
    for player in range(team):
        mates = [p for p in range(team) if p not in (0, player)][:4]
        first, second = sorted([player, *mates]), sorted([0, *mates])
        odds.append(rows[tuple(first)] / rows[tuple(second)])
    return odds


def test_inclusion_by_the_published_recursion() -> None:
    """Probability of inclusion: w_i R(4, A without i) / R(5, A)."""
    team = floor(range(14), UNEVEN)
    odds = odds_of(14, team.weights)
    whole = symmetric_sum(odds, 5)
    for player in range(14):
        others = odds[:player] + odds[player + 1 :]
        assert odds[player] * symmetric_sum(others, 4) / whole == pytest.approx(
            team.shares[player], abs=1e-9
        )


def test_weight_is_the_product_of_odds_over_their_symmetric_sum() -> None:
    team = floor(range(14), UNEVEN)
    odds = odds_of(14, team.weights)
    whole = sum(prod(odds[p] for p in five) for five in fives(14))
    assert whole == pytest.approx(symmetric_sum(odds, 5), rel=1e-9)
    for row in (0, 500, 1001, 2001):
        expected = prod(odds[p] for p in fives(14)[row]) / whole
        assert team.weights[row] == pytest.approx(expected, rel=1e-8)


def test_inclusion_by_full_enumeration() -> None:
    team = floor(range(14), UNEVEN)
    for player in range(14):
        total = sum(w for five, w in zip(fives(14), team.weights, strict=True) if player in five)
        assert total == pytest.approx(team.shares[player], abs=1e-10)
    assert team.shares.sum() == pytest.approx(5)
    assert team.weights.sum() == pytest.approx(1)


def test_no_other_spread_has_more_entropy() -> None:
    """Swap a little weight along a direction that leaves every player's minutes as they are."""
    team = floor(range(9), {p: 10.0 + 3 * p for p in range(9)})
    _, _, kernel = np.linalg.svd(membership(9).T.astype(float))
    rng = np.random.default_rng(0)
    best = -(team.weights * np.log(team.weights)).sum()
    for _ in range(20):
        step = kernel[9:].T @ rng.normal(size=len(kernel) - 9)
        other = team.weights + step * 0.05 * team.weights.min() / np.abs(step).max()
        assert other @ membership(9) == pytest.approx(team.shares)
        assert -(other * np.log(other)).sum() < best


def test_equal_minutes_weigh_all_fives_alike() -> None:
    team = floor(range(15))
    assert team.weights == pytest.approx(np.full(3003, 1 / 3003))
    assert team.shares == pytest.approx(np.full(15, 1 / 3))


def test_two_never_together_are_solved_again() -> None:
    team = floor(range(12), dict.fromkeys(range(12), 20.0), never_together=[(0, 1), (2, 3, 4)])
    inside = membership(12)
    assert team.weights[inside[:, [0, 1]].all(axis=1)].sum() == 0
    assert team.weights[inside[:, [2, 3, 4]].all(axis=1)].sum() == 0
    assert team.off_by < 1e-9
    assert team.given == pytest.approx(team.shares)


def test_minutes_that_cannot_be_had_are_told_and_come_close() -> None:
    """Two who play three quarters each cannot be kept apart: together they have 1, not 1.5."""
    minutes: dict[PlayerId, float] = {0: 30.0, 1: 30.0, **dict.fromkeys(range(2, 10), 12.5)}
    team = floor(range(10), minutes, [(0, 1)])
    assert team.off_by == pytest.approx(team.shares[0] - team.given[0], abs=1e-6)
    assert team.given[0] + team.given[1] == pytest.approx(1.0, abs=0.01)
    assert team.given[2:] == pytest.approx(np.full(8, team.given[2]))
    assert team.given[2] > team.shares[2]


def test_minutes_are_met_where_whole_steps_would_lead_away() -> None:
    """Few minutes and one pair kept apart: Newton's steps grow without bound unless halved."""
    minutes: dict[PlayerId, float] = dict(enumerate((35.0, 1, 10, 10, 20, 2, 10)))
    team = floor(range(7), minutes, [(1, 5)])
    assert team.off_by < 1e-9
    assert team.weights[membership(7)[:, [1, 5]].all(axis=1)].sum() == 0


def test_who_always_plays_and_who_never_does() -> None:
    minutes: dict[PlayerId, float] = {0: 40.0, 1: 0.0, **dict.fromkeys(range(2, 8), 20.0)}
    team = floor(range(8), minutes)
    assert team.shares[0] == 1
    assert team.given == pytest.approx(team.shares, abs=1e-9)


def test_ids_may_be_words_and_missing_minutes_are_the_mean() -> None:
    players: list[PlayerId] = ["ida", "noor", "mia", "eva", "lin", "ana", "zoe", "kim"]
    shares = shares_of(players, {"ida": 30.0, "noor": 10.0})
    assert shares[2] == pytest.approx((shares[0] + shares[1]) / 2)
    assert shares.sum() == pytest.approx(5)


@pytest.mark.parametrize("bad", [{0: -1.0}, {0: float("nan")}, dict.fromkeys(range(6), 0.0)])
def test_bad_minutes(bad: dict[PlayerId, float]) -> None:
    with pytest.raises(BadMinutesError):
        floor(range(6), bad)


@pytest.mark.parametrize("players", [0, 3])
def test_fewer_than_five(players: int) -> None:
    assert floor(range(players)).weights.shape == (comb(players, 5),)


def test_without_scales_up_the_other_fives() -> None:
    team = floor(range(9), {p: 10.0 + p for p in range(9)})
    left = team.without(2, 5)
    inside = membership(9)
    kept = ~inside[:, [2, 5]].any(axis=1)
    assert left.sum() == pytest.approx(1)
    assert left[~kept].sum() == 0
    assert left[kept] == pytest.approx(team.weights[kept] / team.weights[kept].sum())


def test_without_somebody_who_always_plays() -> None:
    team = floor(range(7), {0: 400.0, **dict.fromkeys(range(1, 7), 10.0)})
    assert team.without(0).sum() == pytest.approx(1)


@given(st.lists(st.floats(0.5, 40), min_size=6, max_size=11))
def test_other_order_of_players_weighs_the_same(minutes: list[float]) -> None:
    count = len(minutes)
    order = sorted(range(count), key=lambda p: (minutes[p], p))
    given_minutes: dict[PlayerId, float] = dict(enumerate(minutes))
    one = floor(range(count), given_minutes)
    other = floor(order, given_minutes)
    weights = {frozenset(f): w for f, w in zip(fives(count).tolist(), one.weights, strict=True)}
    for five, weight in zip(fives(count), other.weights, strict=True):
        assert weights[frozenset(order[i] for i in five)] == pytest.approx(weight, abs=1e-8)


@pytest.mark.parametrize("bad", [-0.1, float("inf"), float("nan")])
def test_minutes_that_are_no_length_of_time_are_refused_in_words(bad: float) -> None:
    with pytest.raises(BadMinutesError, match=r"^minutes must be numbers from 0 up$"):
        shares_of(range(6), {0: 20.0, 1: bad})
    with pytest.raises(BadMinutesError, match=r"^somebody must have minutes$"):
        shares_of(range(6), dict.fromkeys(range(6), 0.0))
    assert shares_of((), {}).tolist() == []


@pytest.mark.parametrize(
    ("minutes", "shares"),
    [
        # Six alike share five places; so do six with 20 or with 40 each.
        ((20, 20, 20, 20, 20, 20), (5 / 6,) * 6),
        # 40 of 90 would be 20/9 of a place: one whole, and four are left for 50 minutes.
        ((40, 10, 10, 10, 10, 10), (1, 0.8, 0.8, 0.8, 0.8, 0.8)),
        # The first is capped, and by that the second too: three left for 40 minutes.
        ((100, 30, 10, 10, 10, 10), (1, 1, 0.75, 0.75, 0.75, 0.75)),
        # Two who have none get none while five others have some, and what is left where not.
        ((20, 20, 20, 20, 20, 0, 0), (1, 1, 1, 1, 1, 0, 0)),
        ((20, 20, 20, 0, 0, 0, 0), (1, 1, 1, 0.5, 0.5, 0.5, 0.5)),
        # Three players: all of them always.
        ((30, 20, 1), (1, 1, 1)),
    ],
)
def test_shares_by_hand(minutes: tuple[float, ...], shares: tuple[float, ...]) -> None:
    found = shares_of(range(len(minutes)), {n: float(each) for n, each in enumerate(minutes)})
    assert found == pytest.approx(shares)


def test_only_a_whole_group_that_is_there_is_kept_apart() -> None:
    inside = membership(7)
    apart = floor(range(7), never_together=[(0, 1), (2, 3, 4), (5, 99), ()])
    both = inside[:, [0, 1]].all(axis=1) | inside[:, [2, 3, 4]].all(axis=1)
    assert apart.allowed.tolist() == (~both).tolist()
    assert floor(range(7), never_together=[(5, 99), ()]).allowed.all()


def test_how_far_the_shares_are_missed_is_the_greatest_of_them() -> None:
    shares, given = np.array([0.5, 0.6, 0.7]), np.array([0.5, 0.4, 0.8])
    nothing, allowed = np.zeros(0), np.zeros(0, dtype=np.bool_)
    assert Floor((0, 1, 2), nothing, shares, given, allowed).off_by == pytest.approx(0.2)
    assert Floor((), nothing, nothing, nothing, allowed).off_by == 0.0
