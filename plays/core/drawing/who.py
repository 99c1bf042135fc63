"""Who is who: names that stand in the picture in short or not at all, in one of its corners."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from plays.core.drawing.labels import LEADING, Label, Placed
from shared.core.drawing.fonts import CAP_HEIGHT, shortened, text_width
from shared.core.drawing.picture import Box, Group, Paint, Shape, Text
from shared.core.drawing.room import Rect, Room, stepped

EDGE: Final = 4.0
"""Points between the picture's edge and the key, and between its frame and its letters."""

STEP: Final = 8.0
FIGURE: Final = 0.95
"""From the beginning of a number to that of its name, for a text size of 1."""


def who_is_who(
    found: Sequence[Placed], lost: Sequence[Label], room: Room
) -> tuple[tuple[Shape, ...], tuple[Label, ...]]:
    """The key and the labels that it tells, or nothing where it finds no room.

    Names that are nowhere else go first: where there is no room for all, they stand alone, at
    last each in a key of its own.
    """
    short = [spot.label for spot in found if not spot.is_whole]
    missing = [label for label in lost if label.role is not None]
    left = _left(room, found)
    for asked in ([*missing, *short], missing):
        if key := _keyed(asked, left):
            return (key,), tuple(asked)
    keys = [(key, label) for label in missing if (key := _keyed([label], left))]
    return tuple(key for key, _ in keys), tuple(label for _, label in keys)


def _keyed(asked: Sequence[Label], left: Room) -> Group | None:
    """A key of these names, which then takes its room away."""
    told = sorted(asked, key=lambda label: label.role or "")
    for rect in _corners(told, left):
        if left.free(rect):
            left.block(rect)
            return _key(told, rect)
    return None


def _left(room: Room, found: Sequence[Placed]) -> Room:
    left = room.copy()
    for spot in found:
        left.block(spot.rect)
        if spot.leader is not None:
            left.block_line(stepped(*spot.leader, 2.0), 1.0)
    return left


def _corners(told: Sequence[Label], room: Room) -> Iterator[Rect]:
    """Places for the key: from the foot of the picture upwards, from both sides inwards."""
    if not told:
        return
    size = told[0].size
    words = max(text_width(label.text, size) for label in told)
    most = room.width - 2 * EDGE
    width = min(words + FIGURE * size + 2 * EDGE + 1, most)
    height = size * (CAP_HEIGHT + (len(told) - 1) * LEADING) + 2.5 * EDGE
    across = [EDGE + STEP * k for k in range(int((most - width) / STEP) + 1)]
    top = room.height - EDGE - height
    while top >= EDGE:
        for off in across:
            yield Rect(off, top, width, height)
            yield Rect(room.width - off - width, top, width, height)
        top -= STEP


def _key(told: Sequence[Label], rect: Rect) -> Group:
    size = told[0].size
    left, indent = rect.left + EDGE, FIGURE * size
    first = rect.top + 1.25 * EDGE + size * CAP_HEIGHT
    frame = Paint(stroke="quiet", fill="paper", width=0.7)
    shapes: list[Shape] = [Box((rect.left, rect.top), rect.width, rect.height, frame, 2.0)]
    for line, label in enumerate(told):
        y = first + line * size * LEADING
        name = shortened(label.text, size, rect.width - 2 * EDGE - indent)
        shapes += [
            Text((left, y), label.role or "", size, "ink", bold=True),
            Text((left + indent, y), name, size, "ink"),
        ]
    return Group(tuple(shapes), (("part", "who"),))
