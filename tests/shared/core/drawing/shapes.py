"""A picture's shapes as shapely geometries, to measure what a picture shows."""

from __future__ import annotations

from itertools import pairwise

from shapely.geometry import LineString, MultiLineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from shared.core.drawing.curves import XY, Cubic
from shared.core.drawing.fonts import text_width
from shared.core.drawing.picture import Box, Circle, Group, Path, Picture, Shape, Step, Text

FINE = 24


def runs(steps: tuple[Step, ...]) -> list[list[XY]]:
    """The polylines of a path, bends in fine pieces."""
    found: list[list[XY]] = []
    for step in steps:
        if step[0] == "M":
            found.append([step[1]])
        elif step[0] == "L":
            found[-1].append(step[1])
        elif step[0] == "C":
            piece = Cubic(found[-1][-1], step[1], step[2], step[3])
            found[-1].extend(piece.at(k / FINE) for k in range(1, FINE + 1))
        else:
            found[-1].append(found[-1][0])
    return [run for run in found if len(run) > 1]


def inked(shape: Shape) -> BaseGeometry:
    """The area that a shape covers with ink, dashes counted as whole lines."""
    match shape:
        case Path():
            parts = runs(shape.steps)
            half = shape.paint.width / 2 if shape.paint.stroke else 0.0
            lines = MultiLineString(parts)
            areas = [Polygon(part) for part in parts if len(part) > 2] if shape.paint.fill else []
            return unary_union([lines.buffer(half, cap_style="flat"), *areas])
        case Circle():
            grown = shape.paint.width / 2 if shape.paint.stroke else 0.0
            return Point(shape.center).buffer(shape.radius + grown, quad_segs=32)
        case Box():
            x, y = shape.at
            return box(x, y, x + shape.width, y + shape.height)
        case Text():
            width = text_width(shape.text, shape.size, bold=shape.bold)
            x = shape.at[0] - {"start": 0.0, "middle": width / 2, "end": width}[shape.anchor]
            y = shape.at[1]
            return box(x, y - 0.73 * shape.size, x + width, y)
        case Group():
            return unary_union([inked(inner) for inner in shape.shapes])


def groups(picture: Picture, name: str) -> list[Group]:
    """The groups at the top of a picture that carry a mark of this name."""
    found = [shape for shape in picture.shapes if isinstance(shape, Group)]
    return [group for group in found if name in dict(group.marks)]


def parts(picture: Picture, part: str) -> list[Group]:
    """The groups marked as a part: "person", "label", "defender", "court"."""
    return [group for group in groups(picture, "part") if dict(group.marks)["part"] == part]


def simple(points: list[XY]) -> bool:
    """Whether a polyline does not cross itself."""
    kept = [points[0]] + [b for a, b in pairwise(points) if a != b]
    return len(kept) < 3 or bool(LineString(kept).is_simple)
