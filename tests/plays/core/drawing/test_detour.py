"""A run goes around the circles of people in its way, on the side on which it passes them."""

from __future__ import annotations

import pytest

from plays.core.drawing.detour import detour
from plays.core.play import Role
from shared.core.drawing.curves import XY, distance, smooth

RADIUS = 10.0


@pytest.mark.parametrize("off", [-6.0, -2.0, 2.0, 6.0])
@pytest.mark.parametrize("at", [(0.0, 0.0), (80.0, 40.0), (-30.0, 120.0)])
@pytest.mark.parametrize("way", [(1.0, 0.0), (0.0, 1.0), (-0.6, 0.8)])
def test_around_on_the_nearer_side(off: float, at: XY, way: XY) -> None:
    """A straight run past somebody ``off`` beside it: the other side would be the longer way."""
    aside = (-way[1], way[0])

    def place(along: float, beside: float = 0.0) -> XY:
        x, y = (at[k] + along * way[k] + beside * aside[k] for k in (0, 1))
        return x, y

    circles: dict[Role, XY] = {"1": at, "2": place(50, off)}
    led = detour([at, place(100)], circles, "1", RADIUS)
    assert (led[0], led[-1]) == (at, place(100))
    (led_by,) = led[1:-1]
    passed = sum((led_by[k] - circles["2"][k]) * aside[k] for k in (0, 1))
    assert passed * -off > 0
    curve = smooth(led)
    along = [curve.place(curve.length * k / 200).at for k in range(201)]
    assert min(distance(place, circles["2"]) for place in along) > RADIUS


def test_who_is_not_in_the_way_bends_nothing() -> None:
    circles: dict[Role, XY] = {"1": (0.0, 0.0), "2": (50.0, 30.0)}
    run = [(0.0, 0.0), (100.0, 0.0)]
    assert detour(run, circles, "1", RADIUS) == run
