"""Programmes against answers that were counted out, and one from a textbook."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from shared.core.milp import INFEASIBLE, Growing, Milp, Rows, relaxed, solved, weighted


def wyndor() -> Milp:
    """Hillier and Lieberman, "Introduction to Operations Research", the Wyndor Glass example:

    3x + 5y is at most 36, at x = 2 and y = 6 (from memory; it is easily checked by hand).
    """
    rows = Growing()
    doors, windows = rows.column(0, 4, 3.0), rows.column(0, np.inf, 5.0)
    rows.at_most([(windows, 2.0)], 12.0)
    rows.at_most([(doors, 3.0), (windows, 2.0)], 18.0)
    assert rows.size == (2, 2)
    return rows.milp()


def knapsack() -> tuple[Milp, list[int], list[int]]:
    worth, weight = [6, 10, 12, 7, 3], [1, 2, 3, 2, 1]
    rows = Growing()
    things = [rows.column(0, 1, float(value), integer=True) for value in worth]
    rows.at_most(zip(things, map(float, weight), strict=True), 5.0)
    return rows.milp(), worth, weight


@pytest.mark.parametrize("solve", [solved, relaxed])
def test_the_textbook_optimum(solve: object) -> None:
    found = solve(wyndor(), 5.0)  # type: ignore[operator]
    assert found.x == pytest.approx([2.0, 6.0], abs=1e-6)
    assert found.fun == pytest.approx(-36.0)
    assert found.bound == pytest.approx(-36.0)


def test_whole_numbers_against_every_choice() -> None:
    programme, worth, weight = knapsack()
    best = max(
        np.dot(take, worth) for take in product((0, 1), repeat=5) if np.dot(take, weight) <= 5
    )
    found = solved(programme, None, 0.0)
    assert found.fun == pytest.approx(-best)
    in_fractions = solved(replace(programme, whole=np.zeros(5)), 5.0)
    assert in_fractions.bound is not None
    assert in_fractions.bound <= -best + 1e-9
    loose = relaxed(programme, 5.0)
    assert loose.bound == pytest.approx(in_fractions.bound, abs=1e-6)


def test_held_columns_stay() -> None:
    programme, worth, weight = knapsack()
    best = max(
        np.dot(take, worth)
        for take in product((0, 1), repeat=5)
        if np.dot(take, weight) <= 5 and take[2] and not take[0]
    )
    found = solved(programme.with_held({2: 1.0, 0: 0.0}), 5.0, 0.0)
    assert found.fun == pytest.approx(-best)


def test_many_rows_at_once_are_the_same_as_one_by_one() -> None:
    many, single = Rows(), Rows()
    many.add(np.array([[0, 1], [2, 3]]), np.array([1.0, -2.0]), -np.inf, np.array([4.0, 5.0]))
    single.at_most([(0, 1.0), (1, -2.0)], 4.0)
    single.at_most([(2, 1.0), (1, 0.0), (3, -2.0)], 5.0)
    for one, other in zip(many.made(4), single.made(4), strict=True):
        assert (one != other).sum() == 0
    assert weighted([3, 4], 0.5) == [(3, 0.5), (4, 0.5)]


def test_rows_that_cannot_hold_are_told() -> None:
    rows = Rows()
    rows.add(np.array([[0, 1]]), np.ones(2), 11.0, 20.0)  # the windows stop at 6, the doors at 4
    impossible = wyndor().with_rows(rows)
    assert solved(impossible, 5.0).status == INFEASIBLE
    assert solved(impossible, 5.0).x is None
    assert relaxed(impossible, 5.0).status == INFEASIBLE
