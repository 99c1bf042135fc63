"""What a bar for *ready* asks for and promises, worked out by hand from the formula."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.bar import BARS, DAYS_BEFORE, bar_costs
from practice.core.readiness.cell import readiness
from practice.core.reps.rep import Mode, Touch

GAME = datetime(2026, 3, 10, 18, tzinfo=UTC)


def test_what_each_bar_asks_for_by_hand() -> None:
    """With massing .5 and decay .5, n reps two days old leave sqrt(n / 2); the odds of a bar to the
    power of the spread, .45, are the strength that it wants: n = 2 (odds ** .45) ** 2, rounded up.
    """
    found = {cost.bar: cost.reps for cost in bar_costs(Assumptions())}
    by_hand = {bar: math.ceil(2 * (bar / (1 - bar)) ** 0.9) for bar in BARS}
    assert found == by_hand == {0.5: 2, 0.6: 3, 0.7: 5, 0.8: 7, 0.9: 15}


def test_five_who_are_just_ready_are_seldom_all_right() -> None:
    """.6 ** 5 = .07776 and .9 ** 5 = .59049, each independent of the others."""
    five = {cost.bar: cost.five for cost in bar_costs(Assumptions())}
    assert five[0.6] == pytest.approx(0.07776)
    assert five[0.9] == pytest.approx(0.59049)


@pytest.mark.parametrize("decay", [0.5, 0.9])
def test_the_reps_named_reach_the_bar_and_one_fewer_does_not(decay: float) -> None:
    assumptions = replace(Assumptions(), decay=decay)
    at = GAME - timedelta(days=DAYS_BEFORE)
    for cost in bar_costs(assumptions):
        for count in (cost.reps, cost.reps - 1):
            ran = [Touch("a", "b", "1", "p", at, Mode.LIVE, clean=True)] * count
            value = readiness(ran, ("a", "b", "1"), GAME, assumptions).value
            assert (value >= cost.bar - 1e-9) is (count == cost.reps)


def test_a_bar_of_the_club_stands_in_its_place_and_what_all_bring_along_counts() -> None:
    own = replace(Assumptions(), ready=0.66)
    assert [cost.bar for cost in bar_costs(own)] == [0.5, 0.6, 0.66, 0.7, 0.8, 0.9]
    known = replace(Assumptions(), carried=1.0)
    assert bar_costs(known)[0].reps == 0
