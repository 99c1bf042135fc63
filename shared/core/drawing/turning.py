"""A picture turned by quarters, its letters left upright."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from shared.core.drawing.curves import XY
from shared.core.drawing.fonts import text_width
from shared.core.drawing.picture import Box, Circle, Group, Path, Picture, Shape, Step, Text

MIDDLE: Final = 0.36  # of a letter's size: from the line it stands on to its middle


def turned(picture: Picture, quarters: int) -> Picture:
    """The picture turned clockwise by so many quarters; its marks for scripts fall away."""
    for _ in range(quarters % 4):
        picture = _quarter(picture)
    return picture


def _quarter(picture: Picture) -> Picture:
    """The left edge becomes the top: a point moves with the distance to the foot."""
    turn = _Quarter(picture.height)
    shapes = tuple(turn.shape(shape) for shape in picture.shapes)
    return replace(picture, width=picture.height, height=picture.width, shapes=shapes, marks=())


class _Quarter:
    """One quarter clockwise of a picture so high."""

    def __init__(self, height: float) -> None:
        self.height = height

    def to(self, point: XY) -> XY:
        return self.height - point[1], point[0]

    def shape(self, shape: Shape) -> Shape:
        match shape:
            case Path():
                return Path(tuple(self._step(step) for step in shape.steps), shape.paint)
            case Circle():
                return replace(shape, center=self.to(shape.center))
            case Box():
                left, top, width, height = self._area(
                    (shape.at[0], shape.at[1], shape.width, shape.height)
                )
                return replace(shape, at=(left, top), width=width, height=height)
            case Text():
                return self._text(shape)
            case Group():
                clip = self._area(shape.clip) if shape.clip else None
                inner = tuple(self.shape(each) for each in shape.shapes)
                return Group(inner, shape.marks, clip)

    def _step(self, step: Step) -> Step:
        if step[0] == "C":
            return ("C", self.to(step[1]), self.to(step[2]), self.to(step[3]))
        if step[0] == "M":
            return ("M", self.to(step[1]))
        return ("L", self.to(step[1])) if step[0] == "L" else step

    def _area(self, area: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
        left, top, width, height = area
        corner = self.to((left, top + height))
        return corner[0], corner[1], height, width

    def _text(self, text: Text) -> Text:
        """Turned about the middle of the word, so that it stays beside what it names."""
        width = text_width(text.text, text.size, bold=text.bold)
        shift = {"start": width / 2, "middle": 0.0, "end": -width / 2}[text.anchor]
        middle = text.at[0] + shift, text.at[1] - MIDDLE * text.size
        across, down = self.to(middle)
        return replace(text, at=(across, down + MIDDLE * text.size), anchor="middle")
