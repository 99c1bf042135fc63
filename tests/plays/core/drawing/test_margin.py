"""The picture of a margin: to scale from a second too late to a second to spare, all inside."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.check.check import check
from plays.core.drawing.margin import HEIGHT, WIDTH, margin_picture
from shared.core.drawing.curves import XY
from shared.core.drawing.picture import Circle, Group, Path
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
