"""The key of names stands where the picture has room for it, and nowhere else."""

from __future__ import annotations

import pytest

from plays.core.drawing.labels import Label
from plays.core.drawing.who import who_is_who
from shared.core.drawing.picture import Box, Group, Shape
from shared.core.drawing.room import Rect, Room

LOST = [Label("Ida", 12.0, "ink", role="3"), Label("Noor", 12.0, "ink", role="1")]


def keys_in(room: Room) -> list[Rect]:
    keys, told = who_is_who([], LOST, room)
    assert [label.role for label in told] == ["3", "1"]
    return [frame_of(key) for key in keys]


def frame_of(key: Shape) -> Rect:
    assert isinstance(key, Group)
    box = key.shapes[0]
    assert isinstance(box, Box)
    return Rect(*box.at, box.width, box.height)


@pytest.mark.parametrize("taken", [0.0, 60.0, 110.0])
def test_between_what_is_taken_on_both_sides(taken: float) -> None:
    room = Room(300.0, 100.0)
    room.block(Rect(0.0, 0.0, taken, 100.0))
    room.block(Rect(300.0 - taken, 0.0, taken, 100.0))
    (key,) = keys_in(room)
    assert taken <= key.left
    assert key.left + key.width <= 300.0 - taken
    assert 0.0 <= key.top <= 100.0 - key.height


def test_where_nothing_is_free_there_is_no_key() -> None:
    room = Room(300.0, 100.0)
    room.block(Rect(0.0, 0.0, 300.0, 100.0))
    assert who_is_who([], LOST, room) == ((), ())


def test_two_keys_of_one_picture_do_not_lie_on_each_other() -> None:
    """Where all in one find no room, each name has a key of its own."""
    low = Room(200.0, 40.0)  # one line of letters fits
    left, right = sorted(keys_in(low))
    assert left.left + left.width <= right.left
