"""The window of a diagram: everybody is in it, and the basket with room on both sides."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.court.courts import court
from plays.core.drawing.frame import AROUND, frame
from plays.core.play import RuleSet

COURT = court(RuleSet.FIBA)


@pytest.mark.parametrize("side", [-1, 1])
def test_far_out_on_one_side_the_basket_still_has_a_metre_on_the_other(side: int) -> None:
    seen = frame(COURT, [(side * 6.0, 3.0), (side * 7.0, 8.0)], "action", 300.0)
    for aside in (-1.0, 1.0):
        x, y = seen.to((COURT.basket.x + aside, COURT.basket.y))
        around = AROUND * seen.scale - 1e-6
        assert around <= x <= seen.width - around
        assert 0.0 <= y <= seen.height


@given(st.lists(st.tuples(st.floats(-7.5, 7.5), st.floats(0.0, 14.0)), min_size=1, max_size=5))
def test_nobody_stands_outside_of_the_picture(places: list[tuple[float, float]]) -> None:
    seen = frame(COURT, places, "action", 300.0)
    for x, y in map(seen.to, places):
        assert 0.0 <= x <= seen.width
        assert 0.0 <= y <= seen.height
