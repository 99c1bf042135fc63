"""Paths on the floor by arc length: where one is after so many metres, and where it turns.

A path runs through its waypoints as the diagram draws it. Points are complex numbers, x + iy
in metres, so that a whole path, or five people, are one array.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from plays.core.motion.sprint import Floats
from plays.core.play import Point
from shared.core.drawing.curves import Cubic, smooth

Places = NDArray[np.complex128]

CHORDS = 16  # straight steps that stand for one curved piece between two waypoints
SLIGHT = math.radians(15.0)  # a smaller bend is run through without planting; ours
ONE_TURN = 2.0  # metres of way within which bends add up to one turn; ours


@dataclass(frozen=True, slots=True, eq=False)
class Route:
    """``places`` (n,) and how far along each lies; ``marks`` are the waypoints' lengths.

    ``marks[0]`` is 0 for where the path begins; ``corners`` pairs a length with the angle of
    the turn there in radians. Corners follow from the curve, however many waypoints draw it.
    """

    places: Places
    lengths: Floats
    marks: tuple[float, ...]
    corners: tuple[tuple[float, float], ...]

    @property
    def length(self) -> float:
        return float(self.lengths[-1])

    @property
    def end(self) -> complex:
        return complex(self.places[-1])

    def at(self, along: Floats) -> Places:
        """The places so many metres along (n,), held at both ends."""
        xs = np.interp(along, self.lengths, self.places.real)
        return np.asarray(xs + 1j * np.interp(along, self.lengths, self.places.imag))

    def nearest(self, place: complex) -> tuple[float, float]:
        """(metres along, metres away) of the point of the path nearest to a place."""
        if len(self.places) < 2:
            return 0.0, abs(place - self.end)
        steps = np.diff(self.places)
        squares = np.maximum(np.abs(steps) ** 2, 1e-18)
        shares = np.clip(((place - self.places[:-1]) * steps.conj()).real / squares, 0.0, 1.0)
        gaps = np.abs(self.places[:-1] + shares * steps - place)
        best = int(np.argmin(gaps))
        along = self.lengths[best] + shares[best] * (self.lengths[best + 1] - self.lengths[best])
        return float(along), float(gaps[best])


def turn_into(before: Route, after: Route) -> float:
    """The angle in radians between the end of one path and the beginning of the next."""
    if len(before.places) < 2 or len(after.places) < 2:
        return 0.0
    came = complex(before.places[-1] - before.places[-2])
    goes = complex(after.places[1] - after.places[0])
    return abs(cmath.phase(goes / came))


@lru_cache(maxsize=2048)
def path_through(points: tuple[Point, ...]) -> Route:
    """The path from the first point through the others; a single point is a path too."""
    kept, index = _distinct(points)
    if len(kept) == 1:
        here = np.array([complex(*kept[0])])
        return Route(here, np.zeros(1), (0.0,) * len(points), ())
    pieces = [_sampled(piece, straight=piece.even) for piece in smooth(kept).pieces]
    places = np.concatenate([pieces[0][:1], *(piece[1:] for piece in pieces)])
    lengths = np.concatenate([[0.0], np.cumsum(np.abs(np.diff(places)))])
    ends = np.cumsum([len(piece) - 1 for piece in pieces])
    marks = [0.0, *(float(lengths[end]) for end in ends)]
    return Route(places, lengths, tuple(marks[i] for i in index), _corners(places, lengths))


def _distinct(points: Sequence[Point]) -> tuple[list[tuple[float, float]], list[int]]:
    """The points without repeats, and for each given point which of those it is."""
    kept: list[tuple[float, float]] = []
    index = []
    for x, y in points:
        if not kept or math.hypot(x - kept[-1][0], y - kept[-1][1]) > 1e-9:
            kept.append((x, y))
        index.append(len(kept) - 1)
    return kept, index


def _sampled(piece: Cubic, *, straight: bool) -> Places:
    a, b, c, d = (complex(*point) for point in piece)
    t = np.linspace(0.0, 1.0, 2 if straight else CHORDS + 1)
    u = 1.0 - t
    return np.asarray(u**3 * a + 3 * u * u * t * b + 3 * u * t * t * c + t**3 * d)


def _corners(places: Places, lengths: Floats) -> tuple[tuple[float, float], ...]:
    """The turns, the sharpest first taken out of the curve: (metres along, angle)."""
    steps = np.diff(places)
    bends = np.angle(steps[1:] / steps[:-1])
    where = lengths[1:-1]
    until = np.searchsorted(where, where + ONE_TURN, side="right")
    found = []
    while len(bends):
        total = np.concatenate([[0.0], np.cumsum(bends)])
        turned = np.abs(total[until] - total[:-1])
        first = int(np.argmax(turned))
        if turned[first] <= SLIGHT:
            break
        window = slice(first, int(until[first]))
        weights = np.abs(bends[window])
        middle = float((where[window] * weights).sum() / weights.sum())
        found.append((middle, min(float(turned[first]), math.pi)))
        bends[window] = 0.0
    return tuple(sorted(found))
