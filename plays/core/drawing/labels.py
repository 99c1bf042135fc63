"""Words and small numbers on a diagram: what they say, how large they are, what they look like.

Where each may stand is said in ``places``, which of these places it gets in ``placing``.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from plays.core.drawing.marks import bar_of, moment, moment_size
from plays.core.drawing.strokes import Stroke, Style
from plays.core.play import Role
from shared.core.drawing.curves import XY
from shared.core.drawing.fonts import CAP_HEIGHT, DESCENT, text_width
from shared.core.drawing.picture import Box, Group, Ink, Paint, Path, Shape, Text, lines
from shared.core.drawing.room import Rect, Room, stepped

PAD: Final = 1.5
LEADING: Final = 1.15
"""From line to line of a name in two, for a text size of 1."""

HALF_LINE: Final = 2.4
"""Half the width kept free about a line; a dribble needs more."""


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
    role: Role | None = None  # whose name it is
    in_circle: bool = True  # whether the circle has the role's number


@dataclass(frozen=True, slots=True)
class Placed:
    """A label in a place; ``leader`` goes to what it names, if it stands off.

    The higher the ``cost``, the less one would put it there.
    """

    label: Label
    rect: Rect
    lines: tuple[str, ...]
    leader: tuple[XY, XY] | None = None
    cost: float = 0.0

    @property
    def is_whole(self) -> bool:
        """Whether all of the text is written, in however many lines."""
        return " ".join(self.lines) == self.label.text


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


def whole_forms(label: Label) -> tuple[tuple[str, ...], ...]:
    """How a label is written out: in one line, a name also in two."""
    words = label.text.split()
    if label.center is None or label.framed or len(words) < 2:
        return ((label.text,),)
    cuts = [(" ".join(words[:k]), " ".join(words[k:])) for k in range(1, len(words))]
    return (label.text,), min(cuts, key=lambda lines: max(map(len, lines)))


def short_forms(label: Label) -> tuple[str, ...]:
    """How a name is written where it finds no room: given name and initial, then the number."""
    if label.center is None or label.framed:
        return ()
    words = label.text.split()
    named = [f"{words[0]} {words[-1][0]}."] if len(words) > 1 else []
    number = [label.role] if label.role and not label.in_circle else []
    return tuple(short for short in (*named, *number) if short != label.text)


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
