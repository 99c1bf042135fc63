"""One run along a path: getting going, planting to turn, braking to arrive.

A run is a chain of pieces with a closed form each, so that any moment and any place of it
can be asked for exactly. Between corners a person accelerates as in ``motion_sprint``; at a
corner of angle a, 0 for straight on, they lose

    turn_180 * (v / V) * (1 - cos a) / 2   seconds,

and go on at v * max(0, cos a) (a law of ours, to be calibrated with a stop-watch); at the end
they brake evenly to the speed they arrive with. Metres and seconds; times run from the start
of the run.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

import numpy as np

from plays.core.motion.path import Route
from plays.core.motion.sprint import Floats, elapsed, time_scalar

Way = Literal["push", "plant", "brake"]


@dataclass(frozen=True, slots=True)
class Legs:
    """What a runner has: top speed V, time constant T, braking, and the cost of a turn."""

    top: float
    constant: float
    braking: float
    turn_180: float


@dataclass(frozen=True, slots=True)
class Piece:
    """From ``begin`` (s) at ``place`` (m along the path) on, for ``lasts`` seconds.

    ``speed`` is that at the piece's beginning; ``slowing`` the braking of a brake.
    """

    way: Way
    begin: float
    lasts: float
    place: float
    speed: float
    slowing: float = 0.0


@dataclass(frozen=True, slots=True)
class Dash:
    """A path, and when one is where on it."""

    path: Route
    legs: Legs
    pieces: tuple[Piece, ...]
    seconds: float
    exit_speed: float

    @property
    def peak(self) -> float:
        """The greatest speed of the run: at its end, or where a plant or the brakes begin."""
        return max(self.exit_speed, *(piece.speed for piece in self.pieces), 0.0)

    def along(self, times: Floats) -> Floats:
        """Metres along the path at sorted times (n,) since the start; held at both ends."""
        out = np.zeros_like(times)
        for piece in self.pieces:
            first = times.searchsorted(piece.begin)
            last = times.searchsorted(piece.begin + piece.lasts, side="right")
            if first < last:
                out[first:last] = _along(piece, self.legs, times[first:last] - piece.begin)
        out[times.searchsorted(self.seconds) :] = self.path.length
        return out

    def speeds(self, times: Floats) -> Floats:
        """Speed at sorted times (n,) since the start; zero before and after."""
        out = np.zeros_like(times)
        for piece in self.pieces:
            first, last = times.searchsorted((piece.begin, piece.begin + piece.lasts))
            if first < last:
                out[first:last] = _speed(piece, self.legs, times[first:last] - piece.begin)
        return out

    def when(self, place: float) -> float:
        """The second at which one first is ``place`` metres along the path."""
        for piece in self.pieces:
            if piece.way == "plant":
                continue
            after = _place_at(piece, self.legs)
            if place <= after + 1e-9:
                return piece.begin + min(_until(piece, self.legs, place), piece.lasts)
        return self.seconds


@lru_cache(maxsize=4096)
def run(path: Route, legs: Legs, *, speed: float = 0.0, finish: float | None = 0.0) -> Dash:
    """The quickest run along a path by these laws.

    ``speed`` is brought along from before; ``finish`` is the speed to arrive with at most,
    None for running on without a thought of stopping. Kept, since a play and its counters and
    calls are mostly the same runs.
    """
    pieces: list[Piece] = []
    clock, place, v = 0.0, 0.0, min(speed, 0.999 * legs.top)
    ends = [*path.corners, (path.length, 0.0)]
    for index, (corner, angle) in enumerate(ends):
        last = index == len(ends) - 1
        at = Piece("push", clock, 0.0, place, v)
        made = _section(legs, at, corner - place, finish if last else None)
        pieces.extend(made)
        if made:
            clock = made[-1].begin + made[-1].lasts
            v = _speed_at(made[-1], legs)
        place = corner
        if not last:
            lasts, v = plant(legs, v, angle)
            pieces.append(Piece("plant", clock, lasts, place, v))
            clock += lasts
    return Dash(path, legs, tuple(pieces), clock, v)


def plant(legs: Legs, speed: float, angle: float) -> tuple[float, float]:
    """(seconds lost, speed kept) at a turn by ``angle`` radians, 0 for straight on."""
    lost = legs.turn_180 * min(speed / legs.top, 1.0) * (1.0 - math.cos(angle)) / 2.0
    return lost, speed * max(0.0, math.cos(angle))


def _section(legs: Legs, at: Piece, length: float, finish: float | None) -> list[Piece]:
    """From ``at`` on to the next corner or the end, ``length`` further."""
    if length <= 1e-9:
        return []
    if finish is not None and at.speed > finish:
        need = (at.speed**2 - finish**2) / (2.0 * length)
        if need >= legs.braking:
            lasts = 2 * length / (at.speed + finish)
            return [replace(at, way="brake", lasts=lasts, slowing=need)]
    whole = _until(at, legs, at.place + length)
    if finish is None or _speed_after(legs, at.speed, whole) <= finish:
        return [replace(at, lasts=whole)]
    turn = _switch(legs, length, at.speed, finish, whole)
    high = _speed_after(legs, at.speed, turn)
    there = at.place + _gone(legs, at.speed, turn)
    lasts = (high - finish) / legs.braking
    brake = Piece("brake", at.begin + turn, lasts, there, high, legs.braking)
    return [replace(at, lasts=turn), brake]


def _switch(legs: Legs, length: float, speed: float, finish: float, whole: float) -> float:
    """When to begin to brake, so as to be at ``finish`` on the mark."""
    low, high = 0.0, whole
    for _ in range(44):
        middle = (low + high) / 2.0
        v = _speed_after(legs, speed, middle)
        needs = _gone(legs, speed, middle) + max(v * v - finish * finish, 0.0) / (2 * legs.braking)
        low, high = (middle, high) if needs < length else (low, middle)
    return low


def _speed_after(legs: Legs, speed: float, seconds: float) -> float:
    return legs.top - (legs.top - speed) * math.exp(-seconds / legs.constant)


def _gone(legs: Legs, speed: float, seconds: float) -> float:
    grown = -math.expm1(-seconds / legs.constant)
    return legs.top * seconds - (legs.top - speed) * legs.constant * grown


def _speed_at(piece: Piece, legs: Legs) -> float:
    """The speed at the end of a push or a brake."""
    if piece.way == "brake":
        return piece.speed - piece.slowing * piece.lasts
    return _speed_after(legs, piece.speed, piece.lasts)


def _place_at(piece: Piece, legs: Legs) -> float:
    """The place at the end of a push or a brake."""
    if piece.way == "brake":
        return piece.place + piece.lasts * (piece.speed - piece.slowing * piece.lasts / 2.0)
    return piece.place + _gone(legs, piece.speed, piece.lasts)


def _along(piece: Piece, legs: Legs, since: Floats) -> Floats:
    if piece.way == "plant":
        return np.full_like(since, piece.place)
    if piece.way == "brake":
        return piece.place + since * (piece.speed - piece.slowing * since / 2.0)
    grown = -np.expm1(-since / legs.constant)
    gone = legs.top * since - (legs.top - piece.speed) * legs.constant * grown
    return np.asarray(piece.place + gone)


def _speed(piece: Piece, legs: Legs, since: Floats) -> Floats:
    if piece.way == "plant":
        return np.full_like(since, piece.speed)
    if piece.way == "brake":
        return piece.speed - piece.slowing * since
    return np.asarray(legs.top - (legs.top - piece.speed) * np.exp(-since / legs.constant))


def _until(piece: Piece, legs: Legs, place: float) -> float:
    """Seconds from the piece's beginning to a place on it."""
    ahead = max(place - piece.place, 0.0)
    if piece.way == "brake":
        root = math.sqrt(max(piece.speed**2 - 2.0 * piece.slowing * ahead, 0.0))
        return 2.0 * ahead / (piece.speed + root) if piece.speed + root > 0 else piece.lasts
    before = elapsed(piece.speed, legs.top, legs.constant)
    if before == 0.0:
        return time_scalar(ahead, legs.top, legs.constant)
    start = legs.top * (before + legs.constant * math.expm1(-before / legs.constant))
    return time_scalar(start + ahead, legs.top, legs.constant) - before
