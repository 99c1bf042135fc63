"""A timeline in samples, as plain values: for an animation that only has to interpolate.

Metres and seconds, to the centimetre and the hundredth; x and y as in ``play``.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from plays.core.defence.march import Marking
from plays.core.defence.stance import ball_places
from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats
from plays.core.motion.throw import CHEST
from plays.core.motion.timeline import Flight, Timeline
from plays.core.play import ROLES

DIGITS = 2  # centimetres, and hundredths of a second


def sampled(line: Timeline, hz: float = 25.0, marking: Marking | None = None) -> dict[str, Any]:
    """Every person and the ball ``hz`` times a second, ready for JSON.

    ``roles`` and, with a marking, ``defenders`` hold x and y in turn, in metres, by role (a
    defender by the role guarded at first); ``ball`` holds x, y and height in turn. ``flights``
    and ``spans`` say from when to when. Raises ValueError for a frequency outside 1 to 120.
    """
    if not 1.0 <= hz <= 120.0:
        raise ValueError("between 1 and 120 samples a second")
    times = np.arange(int(np.ceil(line.end * hz)) + 1) / hz
    places = line.places(times)
    found: dict[str, Any] = {
        "hz": hz,
        "end": round(float(times[-1]), DIGITS),
        "signal": round(line.signal, DIGITS),
        "ball_in": None if line.ball_in is None else round(line.ball_in, DIGITS),
        "roles": {role: _pairs(places[:, k]) for k, role in enumerate(ROLES)},
        "ball": _triples(ball_places(line, times, still_out=False), _heights(line, times)),
        "flights": [_flight(flight) for flight in line.flights],
        "spans": [
            {
                "action": span.action,
                "role": span.role,
                "start": round(span.start, DIGITS),
                "end": round(span.end, DIGITS),
                "set": None if span.set is None else round(span.set, DIGITS),
            }
            for span in line.spans.values()
        ],
    }
    if marking is not None:
        guards = marking.at(times)[0]
        found["defenders"] = {role: _pairs(guards[:, k]) for k, role in enumerate(ROLES)}
    return found


def _flight(flight: Flight) -> dict[str, Any]:
    return {
        "source": flight.source,
        "from": flight.passer,
        "to": flight.receiver,
        "release": round(flight.release, DIGITS),
        "catch": round(flight.catch, DIGITS),
        "kind": flight.throw.kind.value,
    }


def _heights(line: Timeline, times: Floats) -> Floats:
    high = np.full(len(times), CHEST * line.pace.height)
    for flight in line.flights:
        flown = (times - flight.release) / max(flight.catch - flight.release, 1e-9)
        aloft = (flown > 0.0) & (flown < 1.0)
        if aloft.any():
            high[aloft] = flight.throw.heights(flown[aloft])
    return high


def _pairs(places: Places) -> list[float]:
    both = np.stack([places.real, places.imag], axis=1).ravel()
    return [round(float(value), DIGITS) for value in both]


def _triples(places: Places, heights: Floats) -> list[float]:
    three = np.stack([places.real, places.imag, heights], axis=1).ravel()
    return [round(float(value), DIGITS) for value in three]
