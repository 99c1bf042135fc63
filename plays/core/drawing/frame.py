"""Which part of the floor a diagram shows, and how metres become points.

In the picture the basket is at the top and the viewer faces it: x runs to the right as on the
court, y runs down the picture as it runs up the court.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from plays.core.court.courts import Court
from plays.core.play import Play, Point
from plays.core.sequence.course import LookLane, Scene
from shared.core.drawing.curves import XY

Crop = Literal["half", "full", "action"]

MARGIN: Final = 1.15
"""Metres of floor shown outside the boundary lines."""

AROUND: Final = 1.6
"""Metres left around the action when the picture is cropped to it."""

LEAST_WIDTH: Final = 10.0
TALLEST: Final = 1.25
FLATTEST: Final = 0.62


@dataclass(frozen=True, slots=True)
class Frame:
    """A window on the floor: its corner nearest the picture's top left, its size, its scale."""

    left: float
    top: float
    across: float
    along: float
    scale: float

    @property
    def width(self) -> float:
        """In points."""
        return self.across * self.scale

    @property
    def height(self) -> float:
        """In points, rounded up to whole ones so that all formats have the same edge."""
        return float(round(self.along * self.scale))

    def marks(self, zoom: float = 1.0) -> tuple[tuple[str, str], ...]:
        """Corner in metres and points per metre of a picture drawn ``zoom`` times as large.

        A place is ``(metres - corner) * scale`` points.
        """
        values = {"left": self.left, "top": self.top, "scale": zoom * self.scale}
        return tuple((name, f"{value:.5f}") for name, value in values.items())

    def held(self, at: XY, room: float) -> XY:
        """The nearest place in the picture that has so many points of it on every side."""
        x, y = at
        return (
            min(max(x, room), self.width - room),
            min(max(y, room), self.height - room),
        )

    def to(self, point: tuple[float, float]) -> XY:
        """A place on the floor as a place in the picture."""
        return (point[0] - self.left) * self.scale, (point[1] - self.top) * self.scale


def frame(court: Court, places: Sequence[tuple[float, float]], crop: Crop, width: float) -> Frame:
    """The frame that shows all ``places``, or what else the crop asks for.

    ``half`` becomes ``full`` for a play that goes on beyond the centre line.
    """
    if crop == "action":
        return _around(places, court, width)
    beyond = any(y > court.half_y + MARGIN for _, y in places)
    bottom = court.length + MARGIN if crop == "full" or beyond else court.half_y + MARGIN / 2
    return _frame(-court.half_width - MARGIN, -MARGIN, court.half_width + MARGIN, bottom, width)


def _frame(left: float, top: float, right: float, bottom: float, width: float) -> Frame:
    return Frame(left, top, right - left, bottom - top, width / (right - left))


def _around(places: Sequence[tuple[float, float]], court: Court, width: float) -> Frame:
    """A window that holds every place and the basket, not too narrow, tall or flat."""
    xs = [x for x, _ in places] + [court.basket.x - 1, court.basket.x + 1]
    ys = [y for _, y in places] + [court.board_y]
    left, right = min(xs) - AROUND, max(xs) + AROUND
    top, bottom = min(ys) - AROUND, max(ys) + AROUND
    left, right = _widened(left, right, max(LEAST_WIDTH, (bottom - top) / TALLEST))
    top, bottom = _widened(top, bottom, (right - left) * FLATTEST)
    left, right = _shifted_inside(
        left, right, -court.half_width - MARGIN, court.half_width + MARGIN
    )
    top, bottom = _shifted_inside(top, bottom, -MARGIN, court.length + MARGIN)
    return _frame(left, top, right, bottom, width)


def _widened(low: float, high: float, least: float) -> tuple[float, float]:
    lack = max(0.0, least - (high - low)) / 2
    return low - lack, high + lack


def _shifted_inside(low: float, high: float, least: float, most: float) -> tuple[float, float]:
    """Moves a stretch between two bounds; one that is longer than they allow stays centred."""
    if high - low >= most - least:
        return low, high
    shift = max(0.0, least - low) - max(0.0, high - most)
    return low + shift, high + shift


def places_of(
    play: Play, floor: Iterable[Scene], looks: Mapping[str, Iterable[LookLane]]
) -> list[tuple[float, float]]:
    """Every place that matters in any phase of a play, so that its diagrams share a frame."""
    places: list[Point] = [start.at for start in play.starts]
    for scene in floor:
        for leg in scene.legs:
            places.extend(leg.points)
        places.extend(chance.end for chance in looks.get(scene.phase.id, ()))
    places.extend(guard.at for guard in play.defenders if guard.at is not None)
    return list(places)
