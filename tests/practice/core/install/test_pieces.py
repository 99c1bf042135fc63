"""The lines over both curves by calculus: where they touch, how steep they are, how close.

That they never lie below is held in ``test_improve``. scipy's root finder and differences stand
in for our own bisection and slopes.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from practice.core.install.pieces import EFFORTS, FOOT, LEVELS, curve_over, gain_lines
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.cell import chance


def test_without_a_discount_for_massing_the_gain_is_the_effort_itself() -> None:
    assert gain_lines(1.0, 0.3) == ((0.0, 1.0),)


def test_the_chord_is_exact_at_both_ends_and_each_tangent_touches() -> None:
    """Massing 0.5 is a square root: the tangent at e is sqrt(e) / 2 + x / (2 sqrt(e))."""
    lines = gain_lines(0.5, 0.4)
    assert lines[0] == pytest.approx((0.0, 0.4**-0.5))
    touching = (0.4, 0.8, 1.4, 2.2, 3.4, 5.0, 8.0)
    wanted = [(math.sqrt(e) / 2, 1 / (2 * math.sqrt(e))) for e in touching]
    assert np.array(lines[1:]) == pytest.approx(np.array(wanted))


def test_only_efforts_beyond_the_least_are_touched() -> None:
    assert len(gain_lines(0.5, 0.39)) == 2 + len(EFFORTS)
    assert len(gain_lines(0.5, 8.0)) == 2


PLAIN = Assumptions(spread=0.45, threshold=0.0)
TURN = ((1 / 0.45 - 1) / (1 / 0.45 + 1)) ** 0.45  # where the logistic of a logarithm turns


def slope_at(strength: float, assumptions: Assumptions, offset: float = 0.0) -> float:
    step = 1e-6
    up, down = (chance(strength + d, assumptions, offset) for d in (step, -step))
    return (up - down) / (2 * step)


def test_the_curve_turns_where_its_slope_is_greatest() -> None:
    grid = np.linspace(0.01, 3, 30_000)
    slopes = [slope_at(strength, PLAIN) for strength in grid.tolist()]
    assert grid[int(np.argmax(slopes))] == pytest.approx(TURN, abs=2e-3)


@pytest.mark.parametrize("start", [0.0, 0.1, 0.3])
def test_the_foot_is_the_chord_from_the_start_and_the_first_line_its_tangent(start: float) -> None:
    pieces = curve_over(start, 0.0, PLAIN)
    foot = FOOT * TURN
    assert pieces.foot == pytest.approx(foot - start)
    level, slope = pieces.low
    assert level == pytest.approx(chance(start, PLAIN))
    assert level + slope * pieces.foot == pytest.approx(chance(foot, PLAIN))

    def overshoot(at: float) -> float:
        return chance(at, PLAIN) + slope_at(at, PLAIN) * (foot - at) - chance(foot, PLAIN)

    touch = brentq(overshoot, TURN + 1e-3, 3.0)
    at_touch = pieces.lines[0][0] + pieces.lines[0][1] * (touch - start)
    assert at_touch == pytest.approx(chance(touch, PLAIN), abs=1e-6)
    assert pieces.lines[0][1] == pytest.approx(slope_at(touch, PLAIN), abs=1e-5)
    assert pieces.at(pieces.foot) == pytest.approx(chance(foot, PLAIN), abs=1e-6)


@pytest.mark.parametrize("offset", [0.0, 0.4])
def test_beyond_the_turn_there_is_no_foot_and_the_first_line_touches_at_once(offset: float) -> None:
    start = 1.2 * math.exp(offset)
    pieces = curve_over(start, offset, PLAIN)
    assert (pieces.foot, pieces.low) == (0.0, (0.0, 0.0))
    assert pieces.at(0.0) == pytest.approx(chance(start, PLAIN, offset))
    assert pieces.lines[0][1] == pytest.approx(slope_at(start, PLAIN, offset), abs=1e-6)


def test_each_level_has_its_tangent_and_the_last_line_is_the_ceiling() -> None:
    pieces = curve_over(0.0, 0.0, PLAIN)
    assert pieces.lines[-1] == (1.0, 0.0)
    points = [(level / (1 - level)) ** 0.45 for level in LEVELS]
    for level, point in zip(LEVELS, points, strict=True):
        if point > 1.1:
            assert pieces.at(point) == pytest.approx(level, abs=1e-9)
    assert pieces.at(1e6) == 1.0


@given(st.floats(0.05, 0.99), st.floats(0.0, 1.0))
def test_the_touching_point_is_found_for_every_steep_spread(spread: float, share: float) -> None:
    """The first line passes through the end of the foot and lies on or above the curve."""
    assumptions = Assumptions(spread=spread)
    pieces = curve_over(0.0, 0.0, assumptions)
    level, slope = pieces.lines[0]
    assert level + slope * pieces.foot == pytest.approx(chance(pieces.foot, assumptions), abs=1e-6)
    point = pieces.foot + share * 4
    assert level + slope * point >= chance(point, assumptions) - 1e-9


@pytest.mark.parametrize("spread", [1.0, 1.5])
def test_a_curve_that_never_turns_has_no_foot(spread: float) -> None:
    pieces = curve_over(0.0, 0.0, Assumptions(spread=spread))
    assert (pieces.foot, pieces.low) == (0.0, (0.0, 0.0))
    assert len(pieces.lines) == len(LEVELS) + 1
