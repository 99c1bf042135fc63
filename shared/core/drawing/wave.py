"""A wave along a curve: how a dribble is drawn.

Units are the caller's. Four cubic pieces make a wave, joined where it crosses the curve and at its
crests; each is the cubic nearest to a quarter of a sine.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import hypot, inf, pi
from typing import NamedTuple

from shared.core.drawing.curves import XY, Cubic, Curve, CurvePlace


def wave(curve: Curve, height: float, pitch: float, ramp: float) -> Curve:
    """A wave along ``curve``, in whole waves of about ``pitch``, that swells over ``ramp``.

    Both ends lie on the curve itself and run in its direction. Where the curve bends the
    height stays under half the radius, so that the wave does not fold. A curve too short for
    two ramps comes back as it is.
    """
    length = curve.length
    if length <= 2 * ramp:
        return curve
    count = 4 * max(1, round(length / pitch))
    step = length / count
    places = [curve.place(k * step) for k in range(count + 1)]
    heights = [
        min(height * _swell(k * step, length, ramp), _room(places, k, step))
        for k in range(count + 1)
    ]
    knots = [_wave_knot(places[k], heights[k], k, step) for k in range(count + 1)]
    return Curve(tuple(_wave_piece(knots[k], knots[k + 1], step) for k in range(count)))


def _swell(along: float, length: float, ramp: float) -> float:
    return max(0.0, min(1.0, along / ramp, (length - along) / ramp))


def _room(places: Sequence[CurvePlace], k: int, step: float) -> float:
    """Half the radius of the bend at a place."""
    before, after = places[max(k - 1, 0)].way, places[min(k + 1, len(places) - 1)].way
    bend = hypot(after[0] - before[0], after[1] - before[1]) / (2 * step)
    return 0.5 / bend if bend > 1e-9 else inf


class _WaveKnot(NamedTuple):
    """A quarter of the wave begins here, in direction ``way``; handles are longer at crests."""

    at: XY
    way: XY
    reach: float


def _wave_knot(place: CurvePlace, height: float, k: int, step: float) -> _WaveKnot:
    (x, y), (wx, wy) = place
    swing = (0, 1, 0, -1)[k % 4] * height
    slope = (1, 0, -1, 0)[k % 4] * height * pi / (2 * step)
    reach = 0.3619 if k % 2 else 0.3261  # the cubic nearest to a quarter of a sine
    return _WaveKnot((x - swing * wy, y + swing * wx), (wx - slope * wy, wy + slope * wx), reach)


def _wave_piece(a: _WaveKnot, b: _WaveKnot, step: float) -> Cubic:
    out, into = a.reach * step, b.reach * step
    return Cubic(
        a.at,
        (a.at[0] + out * a.way[0], a.at[1] + out * a.way[1]),
        (b.at[0] - into * b.way[0], b.at[1] - into * b.way[1]),
        b.at,
    )
