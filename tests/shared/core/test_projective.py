"""The map between four points and four points (Heckbert 1989, section 2.2.3)."""

from __future__ import annotations

import pytest

from shared.core.projective import NoQuadError, projection

SEEN = ((120.0, 80.0), (520.0, 60.0), (600.0, 420.0), (40.0, 400.0))


def test_the_map_takes_corners_to_corners() -> None:
    a, b, c, d, e, f, g, h = projection((900, 840), SEEN)
    for (x, y), (u, v) in zip(((0, 0), (900, 0), (900, 840), (0, 840)), SEEN, strict=True):
        below = g * x + h * y + 1
        assert ((a * x + b * y + c) / below, (d * x + e * y + f) / below) == pytest.approx((u, v))


@pytest.mark.parametrize("turned", [SEEN, SEEN[::-1]])
def test_corners_may_go_round_either_way(turned: tuple[tuple[float, float], ...]) -> None:
    """A photo of the back of a sheet is a map, too."""
    first = projection((10, 10), turned)
    assert (first[2], first[5]) == pytest.approx(turned[0])


@pytest.mark.parametrize(
    "corners",
    [
        ((0, 0),) * 4,
        ((0, 0), (1, 1), (1, 0), (0, 1)),  # they cross
        ((0, 0), (1, 0), (2, 0), (0, 1)),  # three in a line
        ((0, 0), (1, 0), (2, 0.0005), (0, 1)),  # nearly so: a thousandth of the greatest turn
        ((0, 0), (4, 0), (1, 1), (0, 4)),  # one lies inside the others
    ],
)
def test_corners_that_do_not_go_round_are_refused(corners: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(NoQuadError):
        projection((10, 10), corners)
