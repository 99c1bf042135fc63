"""How fast a person gets going: the mono-exponential sprint.

Speed grows as v(t) = V (1 - exp(-t/T)) from the first push on (Furusawa, Hill and Parkinson
1927, Proc R Soc B, doi 10.1098/rspb.1927.0035; Clark et al. 2017; Samozino et al. 2016).
V is the top speed in m/s, T the time constant in s, V/T the first acceleration. Distances
are metres, times seconds. Stopping is no part of this model: see ``motion_run``.

Published split times start at a gate that stands some way in front of the runner's toes, so
their clock starts late. Fitted raw they give an absurd T; therefore every fit here takes
either the distance behind the gate or a fixed correction in seconds.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

BEHIND_GATE = 0.5  # metres; the usual stance behind the first gate (common practice)
TINY = 1e-8  # share of V T below which the first terms of the series are exact enough
FREE_SPLITS = 4  # with fewer splits T is held: three points do not fix two constants


@dataclass(frozen=True, slots=True)
class Split:
    """A timed sprint: ``seconds`` from the first gate to the one ``metres`` further on."""

    metres: float
    seconds: float


def distance(seconds: Floats, top: float, constant: float) -> Floats:
    """How far a standing start has come after ``seconds`` (any shape, 0 or more)."""
    return np.asarray(top * (seconds + constant * np.expm1(-seconds / constant)))


def time(metres: Any, top: float, constant: float) -> Floats:
    """The seconds that ``metres`` (any shape, 0 or more) take from a standing start.

    The inverse of ``distance``; equal to T W(-exp(-d/VT - 1)) + d/V + T with Lambert's W.
    Solved by Newton steps from a bound near the root, which keeps full precision near zero
    and at any distance, where the closed form loses it.
    """
    y = np.asarray(metres, dtype=np.float64) / (top * constant)
    near = np.sqrt(2.0 * y) + y / 3.0
    far = np.maximum(y, TINY)
    x = np.minimum(np.sqrt(2.0 * far) + far / 3.0, far + 1.0)
    for _ in range(4):
        decay = np.exp(-x)
        x = x - (x - 1.0 + decay - far) / (1.0 - decay)
    return np.asarray(constant * np.where(y < TINY, near, x))


def time_scalar(metres: float, top: float, constant: float) -> float:
    """``time`` for one distance, without the cost of an array."""
    y = metres / (top * constant)
    x = min(math.sqrt(2.0 * y) + y / 3.0, y + 1.0)
    if y < TINY:
        return constant * x
    for _ in range(4):
        decay = math.exp(-x)
        x -= (x - 1.0 + decay - y) / (1.0 - decay)
    return constant * x


def elapsed(speed: float, top: float, constant: float) -> float:
    """How long a standing start would have taken to reach ``speed``.

    A speed at or above 99.9 % of the top counts as that: the model never quite reaches it.
    """
    return -constant * math.log1p(-min(max(speed, 0.0) / top, 0.999))


def moving_time(metres: Any, speed: Any, top: float, constant: float) -> Floats:
    """Like ``time``, for someone who already moves at ``speed`` along the way (same shape)."""
    share = np.clip(np.asarray(speed, dtype=np.float64) / top, 0.0, 0.999)
    before = -constant * np.log1p(-share)
    return time(metres + distance(before, top, constant), top, constant) - before


def split_times(metres: Floats, top: float, constant: float, behind: float) -> Floats:
    """Gate times over ``metres`` for a runner who starts ``behind`` metres from the gate."""
    first = time(np.asarray(behind), top, constant)
    return time(metres + behind, top, constant) - first


def fit(
    splits: Sequence[Split],
    *,
    constant: float,
    behind: float = BEHIND_GATE,
    correction: float = 0.0,
) -> tuple[float, float]:
    """The (V, T) whose gate times come nearest to the splits, by least squares on time.

    ``constant`` is T while there are fewer than four splits, and where the search for it
    begins otherwise. ``correction`` is added to every measured time: an alternative to
    ``behind``, which is then given as 0. Raises ValueError without a usable split.
    """
    if not splits or any(split.metres <= 0 or split.seconds <= 0 for split in splits):
        raise ValueError("a fit needs at least one split with a distance and a time above zero")
    metres = np.array([split.metres for split in splits])
    seconds = np.array([split.seconds + correction for split in splits])
    if len(splits) < FREE_SPLITS:
        return _fit_top(metres, seconds, constant, behind), constant
    return fit_both(metres, seconds, constant, behind)


def fit_both(
    metres: Floats, seconds: Floats, constant: float, behind: float
) -> tuple[float, float]:
    """V and T together; meant for four splits or more, or for published tables of means."""

    def misses(both: Floats) -> Floats:
        return split_times(metres, float(both[0]), float(both[1]), behind) - seconds

    found = _least_squares(misses, [_fit_top(metres, seconds, constant, behind), constant])
    return float(found[0]), float(found[1])


def _fit_top(metres: Floats, seconds: Floats, constant: float, behind: float) -> float:
    def misses(top: Floats) -> Floats:
        return split_times(metres, float(top[0]), constant, behind) - seconds

    return float(_least_squares(misses, [7.0])[0])


def _least_squares(misses: Callable[[Floats], Floats], guess: Sequence[float]) -> Floats:
    """scipy's trust region, on parameters that stay above 0.05."""
    from scipy.optimize import least_squares  # noqa: PLC0415 (slow to import)

    found = least_squares(
        misses, guess, "3-point", bounds=(0.05, np.inf), ftol=1e-12, xtol=1e-12, gtol=1e-12
    )
    return np.asarray(found.x, dtype=np.float64)
