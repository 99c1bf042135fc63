"""A picture as plain shapes, which the writers turn into SVG, PNG and PDF.

Units are points (1/72 inch), x to the right and y down from the top left corner. A shape
names its inks; the picture's table says which colour an ink has, so that the same shapes
serve every colour scheme.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Final, Literal, Protocol

from shared.core.drawing.curves import XY, Curve

Ink = str
Move = tuple[Literal["M"], XY]
Line = tuple[Literal["L"], XY]
Bend = tuple[Literal["C"], XY, XY, XY]
Close = tuple[Literal["Z"]]
Step = Move | Line | Bend | Close

CLOSE: Final[Close] = ("Z",)


class Sink(Protocol):
    """Anything that takes bytes: a file opened for writing, a BytesIO, a web response."""

    def write(self, data: bytes, /) -> object: ...


@dataclass(frozen=True, slots=True)
class Paint:
    """How a shape is inked. ``dash`` is the length of a dash and of the gap after it."""

    stroke: Ink | None = None
    fill: Ink | None = None
    width: float = 1.0
    dash: tuple[float, float] | None = None
    round: bool = True


@dataclass(frozen=True, slots=True)
class Path:
    """Lines and Bézier bends."""

    steps: tuple[Step, ...]
    paint: Paint


@dataclass(frozen=True, slots=True)
class Circle:
    """A circle by its middle and radius."""

    center: XY
    radius: float
    paint: Paint


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle by its top left corner; ``corner`` is the radius of its corners."""

    at: XY
    width: float
    height: float
    paint: Paint
    corner: float = 0.0


@dataclass(frozen=True, slots=True)
class Text:
    """One line of text; ``at`` lies on the baseline, at the start, middle or end of the line."""

    at: XY
    text: str
    size: float
    ink: Ink
    bold: bool = False
    anchor: Literal["start", "middle", "end"] = "start"


@dataclass(frozen=True, slots=True)
class Group:
    """Shapes that belong together. ``marks`` become data attributes, for scripts and tests.

    What reaches out of ``clip`` (left, top, width, height) is cut off.
    """

    shapes: tuple[Shape, ...]
    marks: tuple[tuple[str, str], ...] = ()
    clip: tuple[float, float, float, float] | None = None


Shape = Path | Circle | Box | Text | Group


@dataclass(frozen=True, slots=True)
class Picture:
    """Shapes on a sheet of ``width`` by ``height`` points.

    ``inks`` gives every ink its colour as "#rrggbb". Where ``by_class`` is set the SVG writer
    also names the inks as CSS classes, so that a page's style sheet has the last word.
    ``marks`` become data attributes of the whole, in SVG only.
    """

    width: float
    height: float
    shapes: tuple[Shape, ...]
    title: str
    description: str
    inks: Mapping[Ink, str] = field(default_factory=dict)
    by_class: bool = False
    lang: str = "en"
    marks: tuple[tuple[str, str], ...] = ()

    def flat(self) -> Iterator[Path | Circle | Box | Text]:
        """Every shape that leaves ink, groups opened."""
        return _flat(self.shapes)


def trace(curve: Curve) -> tuple[Step, ...]:
    """The steps that draw a curve."""
    steps: list[Step] = [("M", curve.start)]
    for piece in curve.pieces:
        if piece.even:
            steps.append(("L", piece.end))
        else:
            steps.append(("C", piece.out, piece.into, piece.end))
    return tuple(steps)


def lines(*points: XY, closed: bool = False) -> tuple[Step, ...]:
    """The steps that draw straight lines through points."""
    steps: list[Step] = [("M", points[0])]
    steps.extend(("L", point) for point in points[1:])
    return (*steps, CLOSE) if closed else tuple(steps)


def resized(picture: Picture, width: float) -> Picture:
    """The whole picture, line widths and text too, scaled to ``width``."""
    scale = width / picture.width
    shapes = tuple(shifted(shape, 0, 0, scale) for shape in picture.shapes)
    return replace(picture, width=width, height=picture.height * scale, shapes=shapes)


def shifted(shape: Shape, dx: float, dy: float, scale: float = 1.0) -> Shape:
    """The shape scaled about the origin, line widths and text too, and then moved."""

    def to(point: XY) -> XY:
        return dx + scale * point[0], dy + scale * point[1]

    match shape:
        case Path():
            return Path(
                tuple(_moved(step, to) for step in shape.steps), _scaled(shape.paint, scale)
            )
        case Circle():
            return Circle(to(shape.center), scale * shape.radius, _scaled(shape.paint, scale))
        case Box():
            paint = _scaled(shape.paint, scale)
            width, height = scale * shape.width, scale * shape.height
            return Box(to(shape.at), width, height, paint, scale * shape.corner)
        case Text():
            return replace(shape, at=to(shape.at), size=scale * shape.size)
        case Group():
            moved = tuple(shifted(inner, dx, dy, scale) for inner in shape.shapes)
            return Group(moved, shape.marks, _moved_clip(shape.clip, to, scale))


def rounded(shape: Shape, digits: int) -> Shape:
    """The shape with its places and lengths to so many decimals; paints stay as they are."""

    def to(point: XY) -> XY:
        return round(point[0], digits), round(point[1], digits)

    match shape:
        case Path():
            return Path(tuple(_moved(step, to) for step in shape.steps), shape.paint)
        case Circle():
            return replace(shape, center=to(shape.center), radius=round(shape.radius, digits))
        case Box():
            width, height = to((shape.width, shape.height))
            return replace(shape, at=to(shape.at), width=width, height=height)
        case Text():
            return replace(shape, at=to(shape.at))
        case Group():
            inside = tuple(rounded(inner, digits) for inner in shape.shapes)
            return Group(inside, shape.marks, shape.clip)


def _flat(shapes: Iterable[Shape]) -> Iterator[Path | Circle | Box | Text]:
    for shape in shapes:
        if isinstance(shape, Group):
            yield from _flat(shape.shapes)
        else:
            yield shape


class _Mapper(Protocol):
    def __call__(self, point: XY, /) -> XY: ...


def _moved(step: Step, to: _Mapper) -> Step:
    if step[0] == "C":
        return ("C", to(step[1]), to(step[2]), to(step[3]))
    if step[0] == "M":
        return ("M", to(step[1]))
    return ("L", to(step[1])) if step[0] == "L" else step


def _moved_clip(
    clip: tuple[float, float, float, float] | None, to: _Mapper, scale: float
) -> tuple[float, float, float, float] | None:
    if clip is None:
        return None
    left, top = to((clip[0], clip[1]))
    return left, top, clip[2] * scale, clip[3] * scale


def _scaled(paint: Paint, scale: float) -> Paint:
    dash = (paint.dash[0] * scale, paint.dash[1] * scale) if paint.dash else None
    return replace(paint, width=paint.width * scale, dash=dash)
