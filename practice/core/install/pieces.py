"""Lines that lie on or above the two curves of readiness, for an integer programme.

Every line is (level, slope): level + slope * x. The curves are e ** massing over an effort,
and the logistic of a logarithm, R = 1 / (1 + (S / c) ** (-1 / spread)), over a strength S.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from practice.core.readiness.assumptions import Assumptions

Line = tuple[float, float]

# Where the tangents touch: levels of readiness, and efforts in clean live reps. Our choice:
# together they overrate a plan by about one part in a hundred.
LEVELS: Final = (0.3, 0.4, 0.5, 0.6, 0.68, 0.76, 0.82, 0.88, 0.92, 0.95, 0.975, 0.99)
EFFORTS: Final = (0.4, 0.8, 1.4, 2.2, 3.4, 5.0, 8.0)
NO_STRENGTH: Final = 1e-15
FOOT: Final = 0.65  # the foot ends at this share of the strength where the curve turns


def gain_lines(massing: float, least: float) -> tuple[Line, ...]:
    """Lines over e ** massing for e = 0 and e >= least; the chord from 0 is exact at both."""
    if massing >= 1:
        return ((0.0, 1.0),)
    chord = (0.0, least ** (massing - 1))
    touching = [effort for effort in EFFORTS if effort > least]
    return (chord, *(_tangent_power(massing, effort) for effort in (least, *touching)))


@dataclass(frozen=True, slots=True)
class PiecewiseCurve:
    """Readiness over fresh strength P >= 0 on top of a strength that is there already.

    Up to ``foot`` the line ``low`` holds, from there on the least of ``lines``. ``foot`` 0
    means that ``lines`` hold everywhere.
    """

    foot: float
    low: Line
    lines: tuple[Line, ...]

    def at(self, fresh: float) -> float:
        """The pieces' value: never below the curve's own."""
        values = []
        if self.foot > 0 and fresh <= self.foot:
            values.append(self.low[0] + self.low[1] * fresh)
        if fresh >= self.foot:
            values.append(min(level + slope * fresh for level, slope in self.lines))
        return max(values)


def curve_over(start: float, offset: float, assumptions: Assumptions) -> PiecewiseCurve:
    """The pieces for one player, from the strength ``start`` on."""
    power = 1 / assumptions.spread
    scale = math.exp(assumptions.threshold + offset)
    turn = ((power - 1) / (power + 1)) ** (1 / power) if power > 1 else 0.0
    here, foot = start / scale, FOOT * turn
    if here >= foot:
        return PiecewiseCurve(
            0.0, (0.0, 0.0), _rescaled(_upper_lines(here, turn, power), here, scale)
        )
    rise = (_chance(foot, power) - _chance(here, power)) / (foot - here)
    return PiecewiseCurve(
        (foot - here) * scale,
        (_chance(here, power), rise / scale),
        _rescaled(_upper_lines(foot, turn, power), here, scale),
    )


def _upper_lines(start: float, turn: float, power: float) -> list[Line]:
    """The concave cover from ``start`` on: a chord past the turn, then tangents."""
    touch = start if start >= turn else _touching_point(start, turn, power)
    first = [] if touch < NO_STRENGTH else [_tangent(touch, power)]
    points = [(level / (1 - level)) ** (1 / power) for level in LEVELS]
    return [*first, *(_tangent(point, power) for point in points if point > touch), (1.0, 0.0)]


def _touching_point(start: float, turn: float, power: float) -> float:
    """Where a line from the curve at ``start`` touches it beyond the turn, by bisection.

    From 0 it touches at (power - 1) ** (1 / power), which is nowhere 1 beyond the turn, and from
    a later start it touches sooner.
    """
    low, high = turn, turn + 1.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _overshoot(start, middle, power) < 0 else (low, middle)
    return high


def _overshoot(start: float, point: float, power: float) -> float:
    """How far the tangent at ``point`` passes above the curve at ``start``."""
    level, slope = _tangent(point, power)
    return level + slope * start - _chance(start, power)


def _chance(strength: float, power: float) -> float:
    return 0.0 if strength < NO_STRENGTH else 1 / (1 + strength**-power)


def _tangent(point: float, power: float) -> Line:
    value = _chance(point, power)
    slope = power * value * (1 - value) / point
    return value - slope * point, slope


def _tangent_power(massing: float, point: float) -> Line:
    slope = massing * point ** (massing - 1)
    return point**massing - slope * point, slope


def _rescaled(lines: list[Line], start: float, scale: float) -> tuple[Line, ...]:
    """From scaled strength to fresh strength on top of ``start``."""
    return tuple((level + slope * start, slope / scale) for level, slope in lines)
