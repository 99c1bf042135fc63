"""Words and small numbers on a diagram, placed where nothing is drawn.

Labels are placed in order: the emphasised role's moments, the looks, the names. Each tries the
places beside what it names, a name in two lines if need be, then wider rings about it with a thin
leader line, then a shorter form. Letters never shrink. A label that finds no room at all is
left out and its text goes into the picture's description: nothing is ever covered.
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
from shared.core.drawing.room import CELL, Rect, Room, around, beside, stepped

CLEAR: Final = 1.0
"""Points kept free between a label and what is drawn."""

RETRIES: Final = 6
SHARES: Final = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82)
PAD: Final = 1.5
LEADING: Final = 1.15
"""From line to line of a name in two, for a text size of 1."""

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
    lines: tuple[str, ...]
    leader: tuple[XY, XY] | None = None


def placed(
    labels: Sequence[Label], lines_room: Room, people_room: Room
) -> tuple[tuple[Placed, ...], tuple[Label, ...]]:
    """The labels that found room, and those that did not.

    ``lines_room`` holds everything drawn, ``people_room`` people only: a leader line may cross
    a path but not a person. Where some find no room, they go first and all are placed anew,
    at last in short.
    """
    best = last = _placed(labels, lines_room.copy(), people_room.copy())
    order = list(labels)
    for attempt in range(RETRIES):
        if not best[1]:
            break
        order = [*last[1], *(label for label in order if label not in last[1])]
        short = attempt >= RETRIES // 2
        last = _placed(order, lines_room.copy(), people_room.copy(), short=short)
        best = min(best, last, key=lambda each: len(each[1]))
    return best


def _placed(
    labels: Sequence[Label], lines_room: Room, people_room: Room, *, short: bool = False
) -> tuple[tuple[Placed, ...], tuple[Label, ...]]:
    found, lost = [], []
    for label in labels:
        spot = _spot(label, lines_room, people_room, short=short)
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


def size_of(label: Label, written: tuple[str, ...]) -> XY:
    """Width and height of the plate that a label needs, written in these lines."""
    if label.framed:
        return moment_size(label.text, label.size)
    width = max(text_width(text, label.size, bold=label.bold) for text in written) + 2 * PAD
    height = label.size * (CAP_HEIGHT + 2 * DESCENT + (len(written) - 1) * LEADING)
    return width, height + 0.6


def forms_of(label: Label) -> tuple[tuple[str, ...], ...]:
    """How a label may be written: in one line, in two, then as given name and initial."""
    words = label.text.split()
    if label.center is None or label.framed or len(words) < 2:
        return ((label.text,),)
    cuts = [(" ".join(words[:k]), " ".join(words[k:])) for k in range(1, len(words))]
    two = min(cuts, key=lambda lines: max(map(len, lines)))
    short = f"{words[0]} {words[-1][0]}."
    return (label.text,), two, (short,)


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
        return (moment(label.text, (x, y), label.size, label.ink),)
    plate = Box((rect.left, rect.top), rect.width, rect.height, Paint(fill=ground), 2.0)
    step = label.size * LEADING
    first = y + label.size * CAP_HEIGHT / 2 - step * (len(spot.lines) - 1) / 2
    words = (
        Text((x, first + step * k), text, label.size, label.ink, label.bold, "middle")
        for k, text in enumerate(spot.lines)
    )
    return plate, *words


def _spot(
    label: Label, lines_room: Room, people_room: Room, *, short: bool = False
) -> Placed | None:
    """Whole beside what it names, whole further off, then the shorter form."""
    forms = forms_of(label)
    whole, brief = forms[:2], forms[2:] or forms
    for group in (brief,) if short else (whole, brief):
        for written in group:
            size = size_of(label, written)
            for rect in _close(label, size):
                if lines_room.free(rect):
                    return Placed(label, rect, written)
        for written in group:
            spot = _far(label, written, lines_room, people_room)
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
    label: Label, written: tuple[str, ...], lines_room: Room, people_room: Room
) -> Placed | None:
    size = size_of(label, written)
    for anchor, radius in _anchors(label):
        for rect in around(anchor, size, radius + 14, FURTHEST, 8.0):
            if not lines_room.free(rect):
                continue
            leader = _leader(anchor, radius, rect)
            if _crosses_nobody(leader, anchor, radius, people_room):
                return Placed(label, rect, written, leader)
    return None


def _crosses_nobody(leader: tuple[XY, XY], anchor: XY, radius: float, people: Room) -> bool:
    """Whether a leader line leaves everybody free but whom it comes from."""
    own = radius + 2.5 * CELL
    return all(
        distance((x, y), anchor) < own or people.free(Rect(x - 0.5, y - 0.5, 1, 1))
        for x, y in stepped(*leader, 4.0)
    )


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
