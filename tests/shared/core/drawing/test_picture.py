"""Shapes as values: moving, scaling, tracing."""

from __future__ import annotations

import pytest

from shared.core.drawing.curves import line, smooth
from shared.core.drawing.picture import (
    CLOSE,
    Box,
    Circle,
    Group,
    Paint,
    Path,
    Picture,
    Text,
    lines,
    resized,
    shifted,
    trace,
)
from tests.shared.core.drawing.shapes import inked

PAINT = Paint(stroke="ink", fill="paper", width=2, dash=(4, 3))
SHAPES = (
    Path((*trace(smooth([(1, 1), (9, 2), (5, 8)])), CLOSE), PAINT),
    Circle((5, 5), 3, PAINT),
    Box((1, 2), 6, 4, PAINT, corner=1),
    Text((3, 4), "Ida", 10, "ink", anchor="middle"),
)


def test_straight_pieces_are_drawn_as_lines() -> None:
    assert trace(line((0, 0), (3, 4))) == (("M", (0, 0)), ("L", (3, 4)))
    assert [step[0] for step in trace(smooth([(0, 0), (5, 0), (9, 3)]))] == ["M", "C", "C"]
    assert lines((0, 0), (1, 0), closed=True)[-1] == CLOSE


@pytest.mark.parametrize("shape", [*SHAPES, Group(SHAPES, (("part", "all"),), (1, 1, 8, 6))])
def test_scaling_a_shape_scales_its_ink(shape: Path | Circle | Box | Text | Group) -> None:
    before, after = inked(shape), inked(shifted(shape, 10, 20, 2))
    expected = [2 * value + shift for value, shift in zip(before.bounds, (10, 20) * 2, strict=True)]
    assert after.bounds == pytest.approx(expected, abs=1e-6)
    assert after.area == pytest.approx(4 * before.area, rel=1e-6)


def test_a_group_keeps_its_marks_and_moves_its_window() -> None:
    moved = shifted(Group(SHAPES, (("role", "5"),), (1, 2, 8, 6)), 10, 20, 2)
    assert isinstance(moved, Group)
    assert moved.marks == (("role", "5"),)
    assert moved.clip == (12, 24, 16, 12)


def test_a_picture_is_resized_as_a_whole() -> None:
    picture = Picture(100, 80, SHAPES, "t", "d", {"ink": "#000000", "paper": "#ffffff"})
    small = resized(picture, 50)
    assert (small.width, small.height) == (50, 40)
    assert [type(shape) for shape in small.flat()] == [Path, Circle, Box, Text]
