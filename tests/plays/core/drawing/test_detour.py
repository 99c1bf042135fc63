"""A run goes around the circles of people in its way, on the side on which it passes them."""

from __future__ import annotations

import pytest

from plays.core.drawing.detour import detour
from plays.core.play import Role
from shared.core.drawing.curves import XY, distance, smooth

RADIUS = 10.0


@pytest.mark.parametrize("off", [-6.0, -2.0, 2.0, 6.0])
@pytest.mark.parametrize("at", [(0.0, 0.0), (80.0, 40.0), (-30.0, 120.0)])
def test_around_on_the_nearer_side(off: float, at: XY) -> None:
    """From left to right past somebody ``off`` below the line: y grows downwards."""
    x, y = at
    circles: dict[Role, XY] = {"1": (x, y), "2": (x + 50, y + off)}
    begin, end = (x, y), (x + 100, y)
    led = detour([begin, end], circles, "1", RADIUS)
    assert (led[0], led[-1]) == (begin, end)
    (aside,) = led[1:-1]
    assert (aside[1] - circles["2"][1]) * -off > 0  # the other side would be the longer way
    curve = smooth(led)
    along = [curve.place(curve.length * k / 200).at for k in range(201)]
    assert min(distance(place, circles["2"]) for place in along) > RADIUS


def test_who_is_not_in_the_way_bends_nothing() -> None:
    circles: dict[Role, XY] = {"1": (0.0, 0.0), "2": (50.0, 30.0)}
    run = [(0.0, 0.0), (100.0, 0.0)]
    assert detour(run, circles, "1", RADIUS) == run
