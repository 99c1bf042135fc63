"""When a moving defender's hand can be at a place: a reach with momentum.

Who runs by the sprint law and can push in any direction, dv/dt = (V u - v)/T with |u| <= 1, is
after t seconds somewhere in a disc around p + v T (1 - exp(-t/T)) with the radius
V (t - T (1 - exp(-t/T))): the same V and T as for a run. Running away costs, running towards
gains, and none of it depends on a step. Metres and seconds; places are complex numbers.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats

NEVER: Final = 9.0  # seconds; nobody is that long on the way to a pass
GRID: Final = 3.5 * np.linspace(0.0, 1.0, 25) ** 2  # in time constants; finer at the beginning
REFINED: Final = 2  # Newton steps after the grid, which leave less than a millisecond


def arrival(gaps: Places, velocities: Places, reach: Floats, top: float, constant: float) -> Floats:
    """Seconds until a hand that reaches so far is at a place ``gaps`` away (any shape).

    0 for what is in reach already; ``NEVER`` for what is too far for ``GRID``.
    """
    drift = -constant * np.expm1(-GRID)
    runs = top * (constant * GRID - drift)
    away = np.abs(gaps[..., None] - velocities[..., None] * drift)
    spare = reach[..., None] + runs - away
    there = spare >= 0.0
    first = there.argmax(axis=-1)
    last = np.maximum(first - 1, 0)
    begin, end = constant * GRID[last], constant * GRID[first]
    low = np.take_along_axis(spare, last[..., None], axis=-1)[..., 0]
    high = np.take_along_axis(spare, first[..., None], axis=-1)[..., 0]
    seconds = begin + (end - begin) * np.clip(-low / np.maximum(high - low, 1e-9), 0.0, 1.0)
    for _ in range(REFINED):
        decay = np.exp(-seconds / constant)
        to_go = gaps - velocities * constant * (1.0 - decay)
        left = np.abs(to_go)
        missing = left - reach - top * (seconds - constant * (1.0 - decay))
        towards = (velocities * to_go.conj()).real / np.maximum(left, 1e-9)
        speed = np.maximum(top * (1.0 - decay) + towards * decay, 0.05)
        seconds = np.clip(seconds + missing / speed, begin, end)
    return np.where(there.any(axis=-1), seconds, NEVER)
