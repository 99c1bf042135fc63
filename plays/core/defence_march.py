"""How defenders follow: step by step, many plays at once.

A defender pushes off with (V - v)/T, as the sprint law says, brakes and turns with the
braking of the age group, and aims to be at the wanted place as it moves: with care, since a
running man may stop. Where a screen holds somebody up, they stand. Places are complex
numbers, x + iy in metres. Step by step means that results depend a little on the step.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from plays.core.motion_pace import Pace
from plays.core.motion_path import Places
from plays.core.motion_sprint import Floats

Number = TypeVar("Number", bound=np.generic)

REACTIONS = (-0.1, 0.0, 0.1)  # seconds by which the reaction is changed for the band
CAREFUL = 0.35  # share of the braking that is counted on while closing in on a running man
SOFT = 0.1  # seconds: the last centimetres are closed no faster than this allows
RUNS = 2.0  # metres per second from which on a man may stop at any time


@dataclass(frozen=True, slots=True, eq=False)
class Script:
    """What five defenders want: ``aims`` (n, 3, 5) at ``times`` (n,), from ``begin`` (5,) on.

    The middle axis is for the reactions; ``guards`` (n, 5) says who guards whom, ``free``
    (n, 5) which share of the step that ends then they can move, being held up by a screen.
    """

    pace: Pace
    times: Floats
    aims: Places
    begin: Places
    guards: NDArray[np.intp]
    free: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Marking:
    """Where the defenders were: ``places`` and ``speeds`` (n, 3, 5), ``step`` seconds apart."""

    step: float
    places: Places
    speeds: Places
    guards: NDArray[np.intp]

    def at(self, moments: Floats, reaction: int) -> tuple[Places, Places]:
        """Places and velocities (len(moments), 5), between steps on a straight line."""
        last = len(self.places) - 2
        exact = np.clip(moments / self.step, 0.0, last + 0.999)
        low = exact.astype(np.intp)
        share = (exact - low)[:, None]
        before, after = self.places[low, reaction], self.places[low + 1, reaction]
        return before + share * (after - before), self.speeds[low, reaction]


def march(scripts: Sequence[Script]) -> list[Marking]:
    """The defenders of all scripts, moved together. All must have the same step."""
    if not scripts:
        return []
    step = float(scripts[0].times[1] - scripts[0].times[0])
    n = max(len(script.times) for script in scripts)
    aims = np.stack([_padded(script.aims, n) for script in scripts], axis=1)
    drift = np.diff(aims, axis=0, append=aims[-1:]) / step
    free = np.stack([_padded(script.free, n) for script in scripts], axis=1)[:, :, None, :]
    limits = _Limits(scripts, step)
    at = np.repeat(np.stack([script.begin for script in scripts])[:, None, :], 3, axis=1)
    v = np.zeros_like(at)
    places, speeds = np.empty_like(aims), np.empty_like(aims)
    for k in range(n):
        v = limits.turned(v, aims[k] - at, drift[k]) * free[k]
        places[k], speeds[k] = at, v
        at = at + step * v
    return [
        Marking(step, places[: len(s.times), i], speeds[: len(s.times), i], s.guards)
        for i, s in enumerate(scripts)
    ]


def _padded(values: NDArray[Number], n: int) -> NDArray[Number]:
    return np.concatenate([values, np.repeat(values[-1:], n - len(values), axis=0)])


class _Limits:
    """How quickly speed and direction can change in a step; arrays over scripts (g, 1, 1)."""

    def __init__(self, scripts: Sequence[Script], step: float) -> None:
        def column(values: list[float]) -> Floats:
            return np.array(values)[:, None, None]

        self.step = step
        self.top = column([script.pace.game_speed for script in scripts])
        self.push = step / column([script.pace.time_constant for script in scripts])
        self.grip = step * column([script.pace.braking for script in scripts])
        self.braking = column([script.pace.braking for script in scripts])

    def turned(self, v: Places, gap: Places, drift: Places) -> Places:
        """The velocities after a step towards a wanted place that itself moves by ``drift``."""
        away = np.abs(gap)
        care = 1.0 - (1.0 - CAREFUL) * np.minimum(np.abs(drift) / RUNS, 1.0)
        closing = np.sqrt(2.0 * care * self.braking * away)
        closing = np.minimum(closing, away / SOFT)
        want = drift + gap * (closing / np.maximum(away, 1e-9))
        want *= np.minimum(1.0, self.top / np.maximum(np.abs(want), 1e-9))
        change = want - v
        speed = np.abs(v)
        heading = np.where(speed > 0.05, v, change)
        heading = heading / np.maximum(np.abs(heading), 1e-12)
        turn = change * heading.conj()
        along = np.clip(turn.real, -self.grip, np.maximum(self.top - speed, 0.0) * self.push)
        across = np.clip(turn.imag, -self.grip, self.grip)
        return np.asarray(v + heading * (along + 1j * across))
