"""The lines of a court as shapes.

The rule books measure the lane, the circles and the three-point line to their outer edge, the
boundary lines and the restricted arc to their inner edge; each line is drawn about its own
middle, so that those edges lie where the books say.
"""

from __future__ import annotations

from functools import lru_cache
from math import acos, pi
from typing import Final

from plays.core.court.courts import Court
from plays.core.drawing.frame import Frame
from shared.core.drawing.curves import XY, Curve, arc
from shared.core.drawing.picture import Box, Circle, Group, Paint, Path, Shape, Step, lines, trace

THINNEST: Final = 0.95
"""Points: a line of 5 cm would vanish in a small picture."""


@lru_cache(maxsize=64)
def court_shapes(court: Court, frame: Frame) -> Group:
    """The floor within the frame: lane tint, lines, board and ring of each end in view."""
    near = _End(court, frame, far=False)
    shapes: list[Shape] = [
        Box((0, 0), frame.width, frame.height, Paint(fill="paper")),
        near.lane_tint(),
    ]
    ends = [near]
    if frame.top + frame.along > court.length - court.free_throw_y:
        ends.append(_End(court, frame, far=True))
        shapes.append(ends[1].lane_tint())
    paint = Paint(stroke="court", width=max(THINNEST, court.line_width * frame.scale), round=False)
    steps = [*_boundary(court, frame), *_middle(court, frame)]
    for end in ends:
        steps.extend(end.lines())
    shapes.append(Path(tuple(steps), paint))
    for end in ends:
        shapes.extend(end.basket(paint))
    return Group(tuple(shapes), (("part", "court"),))


class _End:
    """One end of the court; the far one is the near one turned by half."""

    def __init__(self, court: Court, frame: Frame, *, far: bool) -> None:
        self.court, self.frame, self.far = court, frame, far
        self.half_line = court.line_width / 2

    def to(self, x: float, y: float) -> XY:
        return self.frame.to((-x, self.court.length - y) if self.far else (x, y))

    def lane_tint(self) -> Box:
        court = self.court
        a, b = (
            self.to(-court.lane_half_width, 0),
            self.to(court.lane_half_width, court.free_throw_y),
        )
        at = min(a[0], b[0]), min(a[1], b[1])
        return Box(at, abs(b[0] - a[0]), abs(b[1] - a[1]), Paint(fill="lane"))

    def lines(self) -> list[Step]:
        return [*self._lane(), *self._three_points(), *self._marks(), *self._restricted()]

    def basket(self, paint: Paint) -> list[Shape]:
        """Board and ring, a little darker than the lines since every play aims at them."""
        court, ink = self.court, Paint(stroke="quiet", width=max(1.2, paint.width), round=False)
        board = lines(
            self.to(-court.board_half_width, court.board_y),
            self.to(court.board_half_width, court.board_y),
        )
        neck = lines(self.to(0, court.board_y), self.to(0, court.basket.y - court.ring_radius))
        ring = Circle(self.to(*court.basket), court.ring_radius * self.frame.scale, ink)
        return [Path((*board, *neck), ink), ring]

    def _lane(self) -> list[Step]:
        court, x = self.court, self.court.lane_half_width - self.half_line
        y, radius = court.free_throw_y - self.half_line, court.circle_radius - self.half_line
        circle = self._arc(0.0, y, radius, 0, pi)
        sides = lines(self.to(-x, 0), self.to(-x, y), self.to(x, y), self.to(x, 0))
        return [*sides, *circle]

    def _three_points(self) -> list[Step]:
        court, x = self.court, self.court.corner_x - self.half_line
        radius = court.arc_radius - self.half_line
        half = acos(min(1.0, x / radius))
        curve = trace(self._curve(court.basket.x, court.basket.y, radius, half, pi - half))
        straight = lines(self.to(x, 0), curve[0][1])  # type: ignore[misc]  # a trace starts with M
        return [*straight, *curve[1:], ("L", self.to(-x, 0))]

    def _marks(self) -> list[Step]:
        """Blocks and marks along the lane, throw-in marks on the lines."""
        court, steps, out = self.court, list[Step](), 0.2
        for side in (-1, 1):
            x = side * court.lane_half_width
            low, high = court.block
            corners = ((x, low), (x + side * out, low), (x + side * out, high), (x, high))
            steps.extend(lines(*(self.to(*corner) for corner in corners), closed=True))
            for y in court.lane_marks:
                steps.extend(lines(self.to(x, y), self.to(x + side * out, y)))
            begin, finish = court.throw_in_mark
            steps.extend(
                lines(
                    self.to(side * begin, court.throw_in_y),
                    self.to(side * finish, court.throw_in_y),
                )
            )
            if court.end_line_spot_x is not None and court.end_line_mark is not None:
                x = side * court.end_line_spot_x
                steps.extend(lines(self.to(x, 0), self.to(x, court.end_line_mark)))
        return steps

    def _restricted(self) -> list[Step]:
        court = self.court
        if court.restricted_radius is None or court.restricted_from_y is None:
            return []
        x = court.restricted_radius + self.half_line
        curve = trace(self._curve(0.0, court.basket.y, x, 0, pi))
        begin = lines(self.to(x, court.restricted_from_y), self.to(x, court.basket.y))
        return [*begin, *curve[1:], ("L", self.to(-x, court.restricted_from_y))]

    def _arc(self, x: float, y: float, radius: float, begin: float, finish: float) -> list[Step]:
        return list(trace(self._curve(x, y, radius, begin, finish)))

    def _curve(self, x: float, y: float, radius: float, begin: float, finish: float) -> Curve:
        """An arc by its angles on the court, from +x over +y."""
        turned = pi if self.far else 0.0
        return arc(self.to(x, y), radius * self.frame.scale, begin + turned, finish + turned)


def _boundary(court: Court, frame: Frame) -> tuple[Step, ...]:
    out = court.line_width / 2
    x, bottom = court.half_width + out, court.length + out
    corners = ((-x, -out), (x, -out), (x, bottom), (-x, bottom))
    return lines(*(frame.to(corner) for corner in corners), closed=True)


def _middle(court: Court, frame: Frame) -> list[Step]:
    if frame.top + frame.along < court.half_y - court.centre_circle_radius:
        return []
    y, x = court.half_y, court.half_width + 3 * court.line_width
    radius = (court.centre_circle_radius - court.line_width / 2) * frame.scale
    circle = trace(arc(frame.to((0, y)), radius, 0, 2 * pi))
    return [*lines(frame.to((-x, y)), frame.to((x, y))), *circle]
