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
    rounded,
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


def test_rounding_keeps_all_but_places_and_lengths() -> None:
    """To a tenth: a place, a radius, a side; a paint, a corner, a size of letters stay."""
    paint = Paint(stroke="ink", width=1.2345, dash=(4.44, 3.33))
    bend = ("C", (1.04, 2.06), (3.14, 4.16), (5.24, 6.26))
    path = Path((("M", (0.04, 0.06)), ("L", (9.96, 8.04)), bend, CLOSE), paint)  # type: ignore[arg-type]  # a step
    assert rounded(path, 1) == Path(
        (
            ("M", (0.0, 0.1)),
            ("L", (10.0, 8.0)),
            ("C", (1.0, 2.1), (3.1, 4.2), (5.2, 6.3)),
            CLOSE,
        ),
        paint,
    )
    assert rounded(Circle((1.26, 2.34), 3.456, paint), 1) == Circle((1.3, 2.3), 3.5, paint)
    box = Box((1.26, 2.34), 30.06, 10.04, paint, corner=1.234)
    assert rounded(box, 1) == Box((1.3, 2.3), 30.1, 10.0, paint, corner=1.234)
    assert rounded(box, 0) == Box((1, 2), 30, 10, paint, corner=1.234)
    text = Text((1.26, 2.34), "Ida", 9.876, "ink", bold=True, anchor="end")
    assert rounded(text, 1) == Text((1.3, 2.3), "Ida", 9.876, "ink", bold=True, anchor="end")


def test_a_group_is_rounded_inside_and_keeps_its_marks_and_window() -> None:
    inner = Group((Circle((1.26, 2.34), 3.456, PAINT),))
    group = Group((inner, Text((0.04, 0.06), "a", 9, "ink")), (("role", "5"),), (0.5, 1.5, 8, 6))
    assert rounded(group, 1) == Group(
        (
            Group((Circle((1.3, 2.3), 3.5, PAINT),)),
            Text((0.0, 0.1), "a", 9, "ink"),
        ),
        (("role", "5"),),
        (0.5, 1.5, 8, 6),
    )
