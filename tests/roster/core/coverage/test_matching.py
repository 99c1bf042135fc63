"""Coverage held against Hall's theorem, Hopcroft-Karp and linear assignment by others."""

from __future__ import annotations

from itertools import combinations
from math import comb

import networkx as nx
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.optimize import linear_sum_assignment

from roster.core.coverage.fives import (
    TooManyPlayersError,
    combinations_of,
    fives,
    membership,
    rest_of_five,
)
from roster.core.coverage.matching import best_fillings, coverage, four_of_five

Bools = NDArray[np.bool_]
ROLE_SETS = [set(c) for size in range(1, 6) for c in combinations(range(5), size)]


def some_known(seed: int, players: int, plays: int, share: float = 0.32) -> Bools:
    return np.random.default_rng(seed).random((players, plays, 5)) < share


def by_hall(known: Bools) -> Bools:
    """Hall 1935 (J. London Math. Soc. 10:26): every set of roles has as many players."""
    floors = known[fives(len(known))]  # (fives, 5, plays, roles)
    enough = [
        floors[..., sorted(roles)].any(axis=3).sum(axis=1) >= len(roles) for roles in ROLE_SETS
    ]
    return np.asarray(np.array(enough).all(axis=0))


def by_hopcroft_karp(floor: Bools) -> bool:
    """networkx's matching of five players to five roles; ``floor`` is (5, 5)."""
    graph = nx.Graph()
    graph.add_nodes_from(("role", k) for k in range(5))
    graph.add_edges_from((("role", int(k)), ("player", int(p))) for p, k in np.argwhere(floor))
    matching = nx.bipartite.hopcroft_karp_matching(graph, [("role", k) for k in range(5)])
    return len(matching) == 10


def test_number_of_fives_and_their_prefixes() -> None:
    assert [len(combinations_of(15, size)) for size in range(1, 6)] == [15, 105, 455, 1365, 3003]
    assert [tuple(five) for five in fives(8)] == list(combinations(range(8), 5))


def test_everybody_knows_everything() -> None:
    assert coverage(np.ones((15, 40, 5), dtype=np.bool_)).sum() == 3003 * 40


def test_three_players_for_each_role_give_243_fives() -> None:
    """Each player knows one role, three players to a role: 3 ** 5 ways to choose."""
    known = np.zeros((15, 1, 5), dtype=np.bool_)
    known[np.arange(15), 0, np.arange(15) % 5] = True
    assert coverage(known).sum() == 3**5 == 243


def test_two_players_who_share_their_only_role() -> None:
    """Known roles 1, 1, 4, 8, 16 as bits: roles 1 has two players, role 2 has none."""
    known = np.zeros((5, 1, 5), dtype=np.bool_)
    known[np.arange(5), 0, [0, 0, 2, 3, 4]] = True
    assert not coverage(known).any()


@pytest.mark.parametrize("seed", range(3))
def test_coverage_against_halls_condition(seed: int) -> None:
    known = some_known(seed, players=8, plays=12, share=0.45)
    held = coverage(known)
    assert 0 < held.sum() < held.size
    assert (held == by_hall(known)).all()


def test_coverage_against_hopcroft_karp() -> None:
    known = some_known(7, players=15, plays=40, share=0.4)
    held = coverage(known)
    rng = np.random.default_rng(8)
    for row, play in zip(rng.integers(0, 3003, 800), rng.integers(0, 40, 800), strict=True):
        assert held[row, play] == by_hopcroft_karp(known[fives(15)[row], play])


def test_best_fillings_equal_linear_assignment_exactly() -> None:
    """Worth in whole parts of 1024, so that sums are exact in any order."""
    rng = np.random.default_rng(3)
    worth = rng.integers(0, 1025, (12, 9, 5)) / 1024
    best = best_fillings(worth)
    for row, five in enumerate(fives(12)):
        for play in range(9):
            floor = worth[five, play]
            rows, columns = linear_sum_assignment(floor, maximize=True)
            assert best[row, play] == floor[rows, columns].sum()


def test_best_fillings_with_unknown_roles_equal_linear_assignment_exactly() -> None:
    """A large penalty stands in for "cannot" on scipy's side."""
    rng = np.random.default_rng(4)
    worth = rng.integers(0, 1025, (9, 20, 5)) / 1024
    worth[rng.random(worth.shape) < 0.6] = -np.inf
    known = worth > -np.inf
    best, possible = best_fillings(worth), coverage(known)
    finite = np.where(known, worth, -1000.0)
    assert 0 < possible.sum() < possible.size
    for row, five in enumerate(fives(9)):
        for play in range(20):
            floor = finite[five, play]
            total = floor[linear_sum_assignment(floor, maximize=True)].sum()
            assert best[row, play] == (total if possible[row, play] else -np.inf)
            assert possible[row, play] == (total >= 0)


def test_more_plays_than_fit_into_one_machine_word() -> None:
    known = some_known(11, players=9, plays=150)
    parts = [coverage(known[:, [play]]) for play in range(150)]
    assert (coverage(known) == np.hstack(parts)).all()


def test_four_of_five_completes_to_coverage() -> None:
    """A five runs a play when one of its players takes the role that the other four leave."""
    known = some_known(5, players=9, plays=10, share=0.4)
    fours, rest = four_of_five(known), rest_of_five(9)
    built = np.zeros((len(fives(9)), 10), dtype=np.bool_)
    for place in range(5):
        for role in range(5):
            built |= fours[role][rest[:, place]] & known[fives(9)[:, place], :, role]
    assert (built == coverage(known)).all()


@pytest.mark.parametrize("players", [0, 1, 4])
def test_fewer_than_five_players_have_no_five(players: int) -> None:
    known = np.ones((players, 3, 5), dtype=np.bool_)
    assert coverage(known).shape == (0, 3)
    assert best_fillings(known.astype(float)).shape == (0, 3)


def test_no_plays() -> None:
    assert coverage(np.ones((6, 0, 5), dtype=np.bool_)).shape == (6, 0)


def test_too_many_players() -> None:
    with pytest.raises(TooManyPlayersError):
        fives(21)


@given(st.integers(0, 10**6), st.data())
def test_one_more_lesson_never_lowers_coverage(seed: int, data: st.DataObject) -> None:
    known = some_known(seed, players=7, plays=3, share=0.5)
    more = known.copy()
    more[
        data.draw(st.integers(0, 6)), data.draw(st.integers(0, 2)), data.draw(st.integers(0, 4))
    ] = True
    assert (coverage(known) <= coverage(more)).all()


@given(st.integers(0, 10**6), st.permutations(range(8)))
def test_other_order_of_players_covers_the_same(seed: int, order: list[int]) -> None:
    known = some_known(seed, players=8, plays=4, share=0.5)
    before = {
        frozenset(five): row for five, row in zip(fives(8).tolist(), coverage(known), strict=True)
    }
    for five, row in zip(fives(8), coverage(known[order]), strict=True):
        assert (before[frozenset(order[i] for i in five)] == row).all()


def test_membership() -> None:
    inside = membership(15)
    assert (inside.sum(axis=1) == 5).all()
    assert (inside.sum(axis=0) == comb(14, 4)).all()
