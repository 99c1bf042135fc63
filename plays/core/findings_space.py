"""Findings about room on the floor."""

from __future__ import annotations

import numpy as np

from plays.core.motion_path import Places
from plays.core.motion_sprint import Floats


def closest(one: Places, other: Places, times: Floats) -> tuple[float, float]:
    """(when, how near) two people come to each other, straight between the times (n,)."""
    gap, step = one - other, np.diff(times)
    drift = np.diff(gap)
    squares = np.maximum(np.abs(drift) ** 2, 1e-18)
    shares = np.clip(-(gap[:-1] * drift.conj()).real / squares, 0.0, 1.0)
    apart = np.abs(gap[:-1] + shares * drift)
    best = int(np.argmin(apart))
    return float(times[best] + shares[best] * step[best]), float(apart[best])
