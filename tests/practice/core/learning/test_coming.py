"""What coming opponents are expected to do: Laplace's rule, an opponent for a game."""

from __future__ import annotations

from itertools import product
from math import comb, isclose

import pytest

from plays.core.defence.stance import Tactic
from practice.core.learning.coming import KINDS, MAN_TO_MAN, coming_shares, expected, next_text
from shared.core.language import ENGLISH


def test_every_defence_is_one_of_the_kinds_or_a_way_of_staying_with_a_man() -> None:
    assert set(KINDS) | MAN_TO_MAN == set(Tactic)
    assert not set(KINDS) & MAN_TO_MAN


def test_a_share_is_the_mean_of_the_flat_dirichlet_by_summing_it_out() -> None:
    """Three kinds by sums over a fine grid of the simplex (Bayes' rule itself, no formula)."""
    steps, seen = 60, (3, 1, 0)
    total = weighted = 0.0
    for a, b in product(range(steps + 1), repeat=2):
        if a + b <= steps:
            shares = (a / steps, b / steps, 1 - (a + b) / steps)
            weight = float(comb(4, 3))
            for share, count in zip(shares, seen, strict=True):
                weight *= share**count
            total += weight
            weighted += weight * shares[0]
    assert weighted / total == pytest.approx((3 + 1) / (4 + 3), abs=0.01)
    found = expected({Tactic.TRAP: 3, Tactic.ZONE: 1})
    assert found[Tactic.TRAP] == pytest.approx((3 + 1) / (4 + len(KINDS)))


@pytest.mark.parametrize(
    ("counts", "share"),
    [({}, 1 / 6), ({Tactic.TRAP: 1}, 2 / 7), ({Tactic.TRAP: 194}, 195 / 200)],
)
def test_few_times_stay_near_the_even_guess(counts: dict[Tactic, int], share: float) -> None:
    assert isclose(expected(counts)[Tactic.TRAP], share)
    assert isclose(sum(expected(counts).values()), 1.0)


def test_ways_of_staying_with_a_man_count_as_the_plain_one() -> None:
    found = expected({Tactic.TIGHT: 2, Tactic.DENY: 1, Tactic.CHASE: 1, Tactic.SWITCH: 2})
    assert isclose(found[Tactic.CHASE], 5 / 12)
    assert isclose(found[Tactic.SWITCH], 3 / 12)


def test_opponents_count_alike_however_often_one_was_watched() -> None:
    shares = coming_shares([{Tactic.ZONE: 94}, {Tactic.TRAP: 4}, {}])
    by = {each.defence: each for each in shares}
    assert isclose(by[Tactic.ZONE].share, (95 / 100 + 1 / 10 + 1 / 6) / 3)
    assert isclose(by[Tactic.TRAP].share, (1 / 100 + 5 / 10 + 1 / 6) / 3)
    assert (by[Tactic.TRAP].count, by[Tactic.TRAP].total) == (4, 98)
    assert isclose(sum(each.share for each in shares), 1.0)


def test_without_anything_seen_nothing_is_said() -> None:
    assert coming_shares([]) == ()
    assert coming_shares([{}, {Tactic.ZONE: 0}]) == ()
    assert next_text((), 2, ENGLISH) == ""


def test_the_counts_are_told_the_most_frequent_first() -> None:
    shares = coming_shares([{Tactic.TRAP: 2, Tactic.SWITCH: 9}, {Tactic.SWITCH: 5, Tactic.SAG: 1}])
    said = "Your next 2 opponents in 17 throw-ins seen: 14 switch · 2 trap the ball · 1 sag."
    assert next_text(shares, 2, ENGLISH) == said
