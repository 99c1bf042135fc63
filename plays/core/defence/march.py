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

from plays.core.motion.pace import Pace
from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats

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
    order = sorted(range(len(scripts)), key=lambda i: -len(scripts[i].times))
    ranked = [scripts[i] for i in order]
    step = float(ranked[0].times[1] - ranked[0].times[0])
    n = len(ranked[0].times)
    aims = np.stack([_padded(script.aims, n) for script in ranked], axis=1)
    free = np.stack([_padded(script.free, n) for script in ranked], axis=1)[:, :, None, :]
    limits = _Limits(ranked, step, aims)
    at = np.repeat(np.stack([script.begin for script in ranked])[:, None, :], 3, axis=1)
    v = np.zeros_like(at)
    places, speeds = np.empty_like(aims), np.empty_like(aims)
    for k in range(n):
        going = limits.going[k]  # the scripts that still go on stand first
        at, v = at[:going], v[:going]
        v = limits.turned(k, v, aims[k, :going] - at) * free[k, :going]
        places[k, :going], speeds[k, :going] = at, v
        at = at + step * v
    made = {
        index: Marking(step, places[: len(s.times), i], speeds[: len(s.times), i], s.guards)
        for i, (index, s) in enumerate(zip(order, ranked, strict=True))
    }
    return [made[index] for index in range(len(scripts))]


def _padded(values: NDArray[Number], n: int) -> NDArray[Number]:
    return np.concatenate([values, np.repeat(values[-1:], n - len(values), axis=0)])


class _Limits:
    """How quickly speed and direction can change in a step.

    Constants are columns (scripts, 1, 1); ``drift`` and ``closing`` (n, scripts, 3, 5) are how
    the wanted places move, and how fast they may be closed in on for each root of a metre.
    """

    def __init__(self, scripts: Sequence[Script], step: float, aims: Places) -> None:
        def column(values: list[float]) -> Floats:
            return np.array(values)[:, None, None]

        paces = [script.pace for script in scripts]
        self.top = column([pace.game_speed for pace in paces])
        self.push = step / column([pace.time_constant for pace in paces])
        braking = column([pace.braking for pace in paces])
        self.grip = step * braking
        self.drift = np.diff(aims, axis=0, append=aims[-1:]) / step
        care = 1.0 - (1.0 - CAREFUL) * np.minimum(np.abs(self.drift) / RUNS, 1.0)
        self.closing = np.sqrt(2.0 * care * braking)
        lengths = [len(script.times) for script in scripts]
        self.going = [sum(length > k for length in lengths) for k in range(max(lengths))]

    def turned(self, k: int, v: Places, gap: Places) -> Places:
        """The velocities after a step towards wanted places that are ``gap`` away."""
        g = len(v)
        top, grip = self.top[:g], self.grip[:g]
        closing = self.closing[k, :g] / np.sqrt(np.abs(gap) + 1e-12)
        want = self.drift[k, :g] + gap * np.minimum(closing, 1.0 / SOFT)
        want *= top / np.maximum(np.abs(want), top)
        change = want - v
        speed = np.abs(v)
        heading = np.where(speed > 0.05, v, change)
        heading /= np.abs(heading) + 1e-12
        turn = change * heading.conj()
        along = np.minimum(np.maximum(turn.real, -grip), (top - speed) * self.push[:g])
        across = np.minimum(np.maximum(turn.imag, -grip), grip)
        return np.asarray(v + heading * (along + 1j * across))
