"""A picture turned by quarters: four are none, and one moves the left edge to the top."""

from __future__ import annotations

from typing import Any

import pytest

from coachbook.demo.files import demo_play
from plays.core.drawing.phase import diagram
from shared.core.drawing.fonts import text_width
from shared.core.drawing.picture import (
    CLOSE,
    Box,
    Circle,
    Group,
    Paint,
    Path,
    Picture,
    Step,
    Text,
    lines,
)
from shared.core.drawing.turning import turned

PAINT = Paint(fill="ink")


def picture() -> Picture:
    shapes = (
        Circle((10, 20), 3, PAINT),
        Box((0, 0), 40, 10, PAINT),
        Path(lines((0, 0), (100, 0)), PAINT),
        Group((Text((50, 30), "Ida", 10, "ink", anchor="start"),), clip=(0, 0, 100, 60)),
    )
    return Picture(100, 60, shapes, "title", "description")


def test_a_quarter_clockwise_brings_the_left_edge_to_the_top() -> None:
    once = turned(picture(), 1)
    size = once.width, once.height
    circle, box, path, group = once.shapes
    assert list(size) == [60, 100]
    assert isinstance(circle, Circle)
    assert list(circle.center) == [40, 10]
    assert isinstance(box, Box)
    assert list(box.at) == [50, 0]
    assert [box.width, box.height] == [10, 40]
    assert isinstance(path, Path)
    assert list(path.steps) == [("M", (60, 0)), ("L", (60, 100))]
    assert isinstance(group, Group)
    assert list(group.clip or ()) == [0, 0, 60, 100]


def test_letters_stay_upright_about_the_middle_of_their_word() -> None:
    twice = turned(picture(), 2)
    group = twice.shapes[3]
    assert isinstance(group, Group)
    (text,) = group.shapes
    assert isinstance(text, Text)
    assert text.anchor == "middle"
    assert text.at[0] < 50  # it began at 50 and reached to the right; now it reaches to the left
    assert text.size == 10
    wide = text_width("Ida", 10)
    assert text.at[0] == pytest.approx(100 - (50 + wide / 2))


@pytest.mark.parametrize("quarters", [0, 4, -4])
def test_a_whole_turn_changes_nothing(quarters: int) -> None:
    assert turned(picture(), quarters) == picture()


def test_four_quarters_bring_a_diagram_back() -> None:
    play = demo_play("gangway")
    plain = diagram(play, play.phases[0].id)
    back = turned(turned(plain, 3), 1)
    ours = [shape.center for shape in plain.flat() if isinstance(shape, Circle)]
    theirs = [shape.center for shape in back.flat() if isinstance(shape, Circle)]
    assert ours
    for one, other in zip(ours, theirs, strict=True):
        assert other == pytest.approx(one)


def test_every_step_of_a_path_is_turned() -> None:
    """A quarter clockwise on a sheet 60 high: (x, y) comes to (60 - y, x)."""
    bend: tuple[Step, ...] = (
        ("M", (0, 0)),
        ("C", (10, 0), (20, 10), (20, 30)),
        ("L", (5, 60)),
        CLOSE,
    )
    once = turned(Picture(100, 60, (Path(bend, PAINT),), "t", "d", marks=(("a", "b"),)), 1)
    (path,) = once.shapes
    assert isinstance(path, Path)
    assert list(path.steps) == [
        ("M", (60, 0)),
        ("C", (60, 10), (50, 20), (30, 20)),
        ("L", (0, 5)),
        CLOSE,
    ]
    assert path.paint == PAINT
    assert not once.marks


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_a_word_turns_about_its_own_middle_wherever_it_is_anchored(anchor: Any) -> None:
    """Three spellings of one word in one place come to one place."""
    half = text_width("Ida", 10, bold=True) / 2
    x = {"start": 50 - half, "middle": 50, "end": 50 + half}[anchor]
    word = Text((x, 30), "Ida", 10, "ink", bold=True, anchor=anchor)
    (text,) = turned(Picture(100, 60, (word,), "t", "d"), 1).shapes
    assert isinstance(text, Text)
    # The middle of the letters lies 3.6 above the line: (50, 26.4) comes to (33.6, 50).
    assert text.at == pytest.approx((33.6, 53.6))
    assert (text.anchor, text.bold, text.text) == ("middle", True, "Ida")
