"""Words and small numbers on a diagram, placed where nothing is drawn.

Labels are placed in order: the emphasised role's moments, the looks, the names. Each tries the
places beside what it names, a little smaller if need be, then wider rings about it with a thin
leader line. A label that finds no room at all is left out and its text goes into the
picture's description: nothing is ever covered.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from plays.core.drawing.marks import bar_of, moment, moment_size
from plays.core.drawing.screens import BAR
from plays.core.drawing.strokes import Stroke, Style, midway
from shared.core.drawing.curves import XY, direction, distance
from shared.core.drawing.fonts import CAP_HEIGHT, DESCENT, text_width
from shared.core.drawing.picture import Box, Group, Ink, Paint, Path, Shape, Text, lines
from shared.core.drawing.room import Rect, Room, around, beside, stepped

CLEAR: Final = 1.0
"""Points kept free between a label and what is drawn."""

TRIES: Final = ((1.0, True), (0.85, True), (1.0, False), (0.85, False), (0.7, True), (0.7, False))
"""Size against the wanted one, and whether beside the thing or further off with a leader."""

SHARES: Final = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)
PAD: Final = 1.5
FURTHEST: Final = 150.0
"""Points from what it names to the middle of a label that stands off."""

HALF_LINE: Final = 2.4
"""Half the width kept free about a line; a dribble needs more."""


SHORT: Final = 18.0
"""Points: along a stroke shorter than this there is no room; a label stands by its end."""


@dataclass(frozen=True, slots=True)
class Label:
    """What is to be written, about a person's circle or along a stroke."""

    text: str
    size: float
    ink: Ink
    bold: bool = False
    framed: bool = False  # in a filled square: a moment
    center: XY | None = None
    radius: float = 0.0
    stroke: Stroke | None = None


@dataclass(frozen=True, slots=True)
class Placed:
    """A label with the room that it got; ``leader`` goes to what it names, if it stands off."""

    label: Label
    rect: Rect
    size: float
    leader: tuple[XY, XY] | None = None


def placed(
    labels: Sequence[Label], lines_room: Room, people_room: Room
) -> tuple[tuple[Placed, ...], tuple[Label, ...]]:
    """The labels that found room, and those that did not.

    ``lines_room`` holds everything drawn, ``people_room`` people only: a leader line may cross
    a path but not a person. Both rooms are filled further as labels are placed.
    """
    found, lost = [], []
    for label in labels:
        spot = _spot(label, lines_room, people_room)
        if spot is None:
            lost.append(label)
            continue
        found.append(spot)
        lines_room.block(_grown(spot.rect, CLEAR))
        people_room.block(spot.rect)
        if spot.leader is not None:
            lines_room.block_line(stepped(*spot.leader, 2.0), 1.0)
    return tuple(found), tuple(lost)


def block_strokes(room: Room, strokes: Iterable[Stroke]) -> None:
    """Takes the strokes and their endings away from the room."""
    for stroke in strokes:
        half = 5.0 if stroke.style is Style.DRIBBLE else HALF_LINE
        room.block_line(stroke.curve.flatten(2 * half), half)
        if stroke.style is Style.HANDOFF or stroke.style is Style.SCREEN:
            room.block_line(stepped(*bar_of(stroke), 4.0), 3.0)
        else:
            room.block_disc(stroke.curve.place(stroke.curve.length - 5.0).at, 6.6)


def label_shapes(spot: Placed, tints: Sequence[Box] = ()) -> Group:
    """A label with its plate, and its leader line under it.

    On one of the ``tints`` of the floor the plate has that tint, elsewhere the paper's.
    """
    leader = [Path(lines(*spot.leader), Paint(stroke="quiet", width=0.7))] if spot.leader else []
    ground = next((tint.paint.fill for tint in tints if _within(spot.rect, tint)), None)
    return Group((*leader, *_written(spot, ground or "paper")), (("part", "label"),))


def size_of(label: Label, scale: float = 1.0) -> XY:
    """Width and height of the plate that a label needs."""
    size = label.size * scale
    if label.framed:
        return moment_size(label.text, size)
    width = text_width(label.text, size, bold=label.bold) + 2 * PAD
    return width, size * (CAP_HEIGHT + 2 * DESCENT) + 0.6


def _within(rect: Rect, tint: Box) -> bool:
    (left, top), (right, bottom) = tint.at, (tint.at[0] + tint.width, tint.at[1] + tint.height)
    return (
        left <= rect.left
        and rect.left + rect.width <= right
        and top <= rect.top
        and rect.top + rect.height <= bottom
    )


def _written(spot: Placed, ground: Ink) -> tuple[Shape, ...]:
    rect, label = spot.rect, spot.label
    x, y = rect.middle
    if label.framed:
        return (moment(label.text, (x, y), spot.size),)
    plate = Box((rect.left, rect.top), rect.width, rect.height, Paint(fill=ground), 2.0)
    baseline = y + spot.size * CAP_HEIGHT / 2
    return plate, Text((x, baseline), label.text, spot.size, label.ink, label.bold, "middle")


def _spot(label: Label, lines_room: Room, people_room: Room) -> Placed | None:
    for scale, near in TRIES:
        size = size_of(label, scale)
        if near:
            for rect in _close(label, size):
                if lines_room.free(rect):
                    return Placed(label, rect, label.size * scale)
        else:
            spot = _far(label, size, scale, lines_room, people_room)
            if spot is not None:
                return spot
    return None


def _close(label: Label, size: XY) -> Iterator[Rect]:
    if label.center is not None:
        yield from beside(label.center, label.radius, size, (1.5, 4.0, 7.0))
    elif label.stroke is not None and label.stroke.curve.length < SHORT:
        yield from beside(label.stroke.curve.end, BAR / 2, size, (1.5, 4.0, 7.0, 10.0))
    elif label.stroke is not None:
        yield from _along(label.stroke, size)


def _along(stroke: Stroke, size: XY) -> Iterator[Rect]:
    """Places on both sides of a stroke, from its middle outwards."""
    width, height = size
    half = 5.0 if stroke.style is Style.DRIBBLE else HALF_LINE
    for gap in (0.6, 3.0):
        for share in SHARES:
            (x, y), (nx, ny) = midway(stroke, share)
            reach = half + gap + (abs(nx) * width + abs(ny) * height) / 2
            for side in (1, -1):
                cx, cy = x + side * reach * nx, y + side * reach * ny
                yield Rect(cx - width / 2, cy - height / 2, width, height)


def _far(
    label: Label, size: XY, scale: float, lines_room: Room, people_room: Room
) -> Placed | None:
    for anchor, radius in _anchors(label):
        for rect in around(anchor, size, radius + 14, FURTHEST, 8.0):
            if not lines_room.free(rect):
                continue
            leader = _leader(anchor, radius, rect)
            steps = stepped(*leader, 6.0)
            if all(people_room.free(Rect(x - 0.5, y - 0.5, 1, 1)) for x, y in steps):
                return Placed(label, rect, label.size * scale, leader)
    return None


def _anchors(label: Label) -> Iterator[tuple[XY, float]]:
    """Where a leader line may end: at the circle, or along the stroke from its middle outwards."""
    if label.center is not None:
        yield label.center, label.radius
    elif label.stroke is not None:
        yield from ((midway(label.stroke, share)[0], 0.0) for share in SHARES)


def _leader(anchor: XY, radius: float, rect: Rect) -> tuple[XY, XY]:
    end = rect.nearest(anchor)
    way = direction(anchor, end)
    clear = min(radius + 2.5 if radius else 0.0, distance(anchor, end))
    return (anchor[0] + clear * way[0], anchor[1] + clear * way[1]), end


def _grown(rect: Rect, by: float) -> Rect:
    return Rect(rect.left - by, rect.top - by, rect.width + 2 * by, rect.height + 2 * by)
