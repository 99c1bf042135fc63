"""Free room against shapely: what is called free touches nothing that was blocked."""

from __future__ import annotations

from math import dist, hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Point, box
from shapely.geometry.base import BaseGeometry

from shared.core.drawing.room import CELL, Rect, Room, about, beside, stepped

numbers = st.floats(-20, 220)
sizes = st.floats(2, 60)
rects = st.builds(Rect, numbers, numbers, sizes, sizes)
discs = st.tuples(st.tuples(numbers, numbers), st.floats(1, 30))
segments = st.tuples(st.tuples(numbers, numbers), st.tuples(numbers, numbers))


def area(rect: Rect) -> BaseGeometry:
    return box(rect.left, rect.top, rect.left + rect.width, rect.top + rect.height)


@given(st.lists(rects, max_size=4), st.lists(discs, max_size=3), segments, rects)
def test_a_free_rectangle_touches_nothing(
    taken: list[Rect],
    rounds: list[tuple[tuple[float, float], float]],
    segment: tuple[tuple[float, float], tuple[float, float]],
    wanted: Rect,
) -> None:
    room = Room(200, 150)
    blocked: list[BaseGeometry] = [LineString(segment).buffer(2.0, cap_style="flat")]
    room.block_line(stepped(*segment, 4.0), 2.9)
    for rect in taken:
        room.block(rect)
        blocked.append(area(rect))
    for center, radius in rounds:
        room.block_disc(center, radius)
        blocked.append(Point(center).buffer(radius))
    if room.free(wanted):
        assert box(0, 0, 200, 150).contains(area(wanted))
        assert all(area(wanted).intersection(each).area < 1e-6 for each in blocked)


@pytest.mark.parametrize(("center", "radius"), [((101.0, 74.3), 30.2), ((3.1, 60.0), 17.5)])
def test_a_disc_takes_the_squares_that_it_touches_and_no_other(
    center: tuple[float, float], radius: float
) -> None:
    room = Room(200, 150)
    room.block_disc(center, radius)
    for column in range(int(200 / CELL)):
        for row in range(int(150 / CELL)):
            square = Rect(column * CELL, row * CELL, CELL, CELL)
            touched = area(square).distance(Point(center)) < radius
            assert room.free(square) is not touched, square


@given(rects)
def test_an_empty_room_is_free_inside_and_nowhere_else(rect: Rect) -> None:
    assert Room(200, 150).free(rect) == box(0, 0, 200, 150).covers(area(rect))


def test_labels_stand_clear_of_their_disc() -> None:
    disc = Point(50, 50).buffer(10, quad_segs=64)
    assert not any(area(rect).intersects(disc) for rect in beside((50, 50), 10, (30, 12), (1.5, 6)))
    first = next(beside((50, 50), 10, (30, 12), (2,)))
    assert first == Rect(62, 44, 30, 12)


def test_places_all_round_keep_their_distance() -> None:
    found = list(about((100, 50), 20, (30, 8), 8))
    right, below, left, above = found[::2]
    assert (right.left, below.top) == (120, 70)
    assert (left.left + left.width, above.top + above.height) == (80, 30)
    assert {rect.middle[0] for rect in (below, above)} == {100}
    assert all(dist(rect.nearest((100, 50)), (100, 50)) <= 20 + 1e-9 for rect in found)


def test_the_nearest_point_of_a_rectangle() -> None:
    rect = Rect(10, 10, 20, 10)
    assert rect.nearest((0, 0)) == (10, 10)
    assert rect.nearest((15, 40)) == (15, 20)
    assert rect.nearest((12, 12)) == (12, 12)


@given(discs, rects)
def test_what_keeps_clear_of_a_disc_by_two_squares_is_free(
    disc: tuple[tuple[float, float], float], wanted: Rect
) -> None:
    """Blocking rounds outwards to whole squares, one each way, and takes no more."""
    room = Room(200, 150)
    room.block_disc(*disc)
    center, radius = disc
    inside = box(0, 0, 200, 150).contains(area(wanted))
    if inside and area(wanted).distance(Point(center)) > radius + 2 * hypot(CELL, CELL):
        assert room.free(wanted)


def squares(room: Room) -> set[tuple[int, int]]:
    """The blocked squares inside the picture, by column and row."""
    return {
        (column, row)
        for column in range(int(room.width / CELL))
        for row in range(int(20 / CELL))
        if not room.free(Rect(column * CELL, row * CELL, CELL, CELL))
    }


@pytest.mark.parametrize(
    ("point", "half", "columns"),
    [
        ((9.0, 5.0), 0.9, {4}),
        ((9.0, 5.0), 1.5, {3, 4, 5}),
        ((0.5, 5.0), 0.9, {0}),
        ((-0.5, 5.0), 0.9, {0}),
        ((-3.0, 5.0), 0.9, set()),
        ((29.5, 5.0), 0.9, {14}),
        ((30.5, 5.0), 0.9, {14}),
        ((33.0, 5.0), 0.9, set()),
    ],
)
def test_a_line_blocks_the_squares_around_its_points_to_the_edge_of_the_picture(
    point: tuple[float, float], half: float, columns: set[int]
) -> None:
    """Squares of 2 points on a picture of 30 by 20; the line is 2 halves thick."""
    room = Room(30, 20)
    room.block_line([point], half)
    rows = {2} if half < 1 else {1, 2, 3}
    assert squares(room) == {(column, row) for column in columns for row in rows}


def test_a_line_outside_leaves_the_points_after_it_to_block() -> None:
    room = Room(30, 20)
    room.block_line([(90.0, 5.0), (-50.0, 5.0), (9.0, 5.0)], 0.9)
    assert squares(room) == {(4, 2)}
