"""The picture of a margin: to scale from a second too late to a second to spare, all inside."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.check.bands import Band
from plays.core.check.check import check
from plays.core.defence.verdict import CONTESTED, Word
from plays.core.drawing.margin import HEIGHT, WIDTH, margin_picture
from shared.core.drawing.curves import XY
from shared.core.drawing.picture import Box, Circle, Group, Path
from tests.plays.core.drawing.drawn_plays import GATEHOUSE

VERDICT = check(GATEHOUSE, age=GATEHOUSE.level).verdicts[0]


def parts(margin: float) -> tuple[Circle, list[list[XY]]]:
    """The dot, and where each line goes."""
    (group,) = margin_picture(replace(VERDICT, margin=margin)).shapes
    assert isinstance(group, Group)
    (dot,) = (shape for shape in group.shapes if isinstance(shape, Circle))
    paths = [shape for shape in group.shapes if isinstance(shape, Path)]
    return dot, [
        [step[1] for step in path.steps if step[0] == "M" or step[0] == "L"] for path in paths
    ]


@pytest.mark.parametrize("margin", [-3.0, -1.0, -0.25, 0.0, 0.4, 1.0, 7.0])
def test_the_dot_stands_on_the_axis_at_its_seconds(margin: float) -> None:
    dot, (axis, zero, *_) = parts(margin)
    begin, end = axis
    assert dot.center[1] == begin[1] == end[1] == HEIGHT / 2
    second = (end[0] - begin[0]) / 2
    shown = max(-1.0, min(1.0, margin))
    assert dot.center[0] == pytest.approx(zero[0][0] + shown * second)
    assert dot.radius < dot.center[0] < WIDTH - dot.radius


def test_with_a_band_the_dot_is_its_median_and_the_bar_holds_nine_draws_in_ten() -> None:
    band = Band("l1", 0.25, -0.5, 0.75, 0.7, 0.1, 0.1, 0.1, Word.OPEN)
    picture = margin_picture(VERDICT, band)
    (group,) = picture.shapes
    assert isinstance(group, Group)
    (bar,) = (shape for shape in group.shapes if isinstance(shape, Box))
    (dot,) = (shape for shape in group.shapes if isinstance(shape, Circle))
    half = WIDTH / 2
    second = (WIDTH - 16) / 2
    assert bar.at == pytest.approx((half - 0.5 * second, HEIGHT / 2 - 3))
    assert (bar.width, bar.height) == pytest.approx((1.25 * second, 6))
    assert dot.center[0] == pytest.approx(half + 0.25 * second)
    assert picture.title == "Margin 0.25 s, between -0.5 and 0.75 s in nine of ten trials"


def test_a_band_beyond_the_edge_still_shows() -> None:
    (group,) = margin_picture(
        VERDICT, Band("l1", 2.5, 2.0, 3.0, 1.0, 0.0, 0.0, 0.0, Word.OPEN)
    ).shapes
    assert isinstance(group, Group)
    (bar,) = (shape for shape in group.shapes if isinstance(shape, Box))
    assert bar.width == 1.0
    assert bar.at[0] == pytest.approx(WIDTH - 8)


@pytest.mark.parametrize(("margin", "ink"), [(CONTESTED, "own"), (CONTESTED - 0.01, "ink")])
def test_what_is_there_is_drawn_in_the_readers_own_colour(margin: float, ink: str) -> None:
    dot, _lines = parts(margin)
    assert dot.paint.fill == ink


def test_it_is_as_small_as_a_line_of_the_table() -> None:
    picture = margin_picture(VERDICT)
    assert (picture.width, picture.height) == (150.0, 22.0)


def test_the_line_of_what_is_open_is_dashed_evenly_and_the_others_are_whole() -> None:
    (group,) = margin_picture(VERDICT).shapes
    assert isinstance(group, Group)
    _axis, zero, open_ = (shape.paint.dash for shape in group.shapes if isinstance(shape, Path))
    assert zero is None
    assert open_ is not None
    assert open_[0] == open_[1]
