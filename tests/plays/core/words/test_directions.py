"""Directions as people say them who face the basket (common practice, no source)."""

from __future__ import annotations

import pytest

from plays.core.play import Point
from plays.core.words.directions import toward

HALF = 14.0  # metres from the baseline to the centre line: FIBA, Art. 2.1


@pytest.mark.parametrize(
    ("here", "there", "said"),
    [
        ((0.0, 4.0), (0.0, 4.0), ""),
        ((0.0, 4.0), (1.0, 4.9), "right"),
        ((0.0, 4.0), (-1.0, 4.9), "left"),
        ((0.0, 4.0), (1.0, 5.0), "half"),  # as far up as across
        ((0.0, 4.0), (0.2, 3.0), "baseline"),
        ((0.0, 13.0), (0.0, 15.0), "half"),
        ((0.0, 14.0), (0.0, 16.0), "own"),  # from the line itself on it is their own half
        ((0.0, 16.0), (0.0, 14.0), "half"),
        ((0.0, 16.0), (0.0, 13.0), "baseline"),
    ],
)
def test_a_short_way_goes_where_its_larger_part_goes(
    here: tuple[float, float], there: tuple[float, float], said: str
) -> None:
    assert toward(Point(*here), Point(*there), HALF) == said
