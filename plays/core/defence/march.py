"""How defenders follow: step by step, many plays at once.

A defender pushes off with (V - v)/T, as the sprint law says, brakes and turns with the
braking of the age group, and aims to be at the wanted place as it moves: with care, since a
running man may stop. A screener in the way makes the defender's clock stand still (see
``screens``). Places are complex numbers, x + iy in metres. ``STEP`` is small enough: halving
it again moves no margin by a hundredth of a second.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from copy import copy
from dataclasses import dataclass
from typing import Final, TypeVar

import numpy as np
from numpy.typing import NDArray

from plays.core.defence.guarding import STANDARD, Guarding
from plays.core.defence.screens import Obstacle
from plays.core.motion.pace import Pace
from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats

Number = TypeVar("Number", bound=np.generic)

STEP: Final = 0.02  # seconds
CAREFUL: Final = 0.35  # share of the braking counted on while closing in on a running man; ours
SOFT: Final = 0.1  # seconds: the last centimetres are closed no faster than this allows; ours
EDGE: Final = 0.2  # metres over which a way goes over from free to blocked; ours
WALKS: Final = 1.0  # metres per second: who wants to go slower than this is in no one's way; ours
RUNS: Final = 2.0  # metres per second from which on a man may stop at any time; ours


@dataclass(frozen=True, slots=True, eq=False)
class Script:
    """What five defenders want: ``aims`` (n, 5) at ``times`` (n,), from ``begin`` (5,) on.

    ``guards`` (n, 5) says who guards whom, ``obstacles`` which screens stand in the way.
    """

    pace: Pace
    times: Floats
    aims: Places
    begin: Places
    guards: NDArray[np.intp]
    obstacles: tuple[Obstacle, ...] = ()
    guarding: Guarding = STANDARD


@dataclass(frozen=True, slots=True, eq=False)
class Marking:
    """Where the defenders were: ``places`` and ``speeds`` (n, 5), ``step`` seconds apart.

    ``held`` (n, obstacles) are the seconds that each obstacle has cost by then.
    """

    pace: Pace
    guarding: Guarding
    step: float
    places: Places
    speeds: Places
    guards: NDArray[np.intp]
    obstacles: tuple[Obstacle, ...]
    held: Floats

    def at(self, moments: Floats) -> tuple[Places, Places]:
        """Places and velocities (len(moments), 5), between steps on a straight line."""
        low, share = self._between(moments)
        places, speeds = self.places, self.speeds
        return (
            places[low] + share * (places[low + 1] - places[low]),
            speeds[low] + share * (speeds[low + 1] - speeds[low]),
        )

    def cost(self, moment: float, defender: int) -> tuple[tuple[Obstacle, float], ...]:
        """What has held up a defender, and for how many seconds, by a moment."""
        low, share = self._between(np.array([moment]))
        spent = (self.held[low] + share * (self.held[low + 1] - self.held[low]))[0]
        return tuple(
            (each, float(seconds))
            for each, seconds in zip(self.obstacles, spent, strict=True)
            if each.index == defender and seconds > 0.005
        )

    def _between(self, moments: Floats) -> tuple[NDArray[np.intp], Floats]:
        exact = np.clip(moments / self.step, 0.0, len(self.places) - 1.001)
        low = exact.astype(np.intp)
        return low, (exact - low)[:, None]


def march(scripts: Sequence[Script]) -> list[Marking]:
    """The defenders of all scripts, moved together. All must have the same step."""
    if not scripts:
        return []
    order = sorted(range(len(scripts)), key=lambda i: -len(scripts[i].times))
    ranked = [scripts[i] for i in order]
    step = float(ranked[0].times[1] - ranked[0].times[0])
    n = len(ranked[0].times)
    aims = np.stack([_padded(script.aims, n) for script in ranked], axis=1)
    limits, ways = _Limits(ranked, step, aims), _Ways(ranked, step, n)
    at = np.stack([script.begin for script in ranked])
    v = np.zeros_like(at)
    places, speeds = np.empty_like(aims), np.empty_like(aims)
    for going, stretch in _stretches(ranked):  # the scripts that still go on stand first
        at, v = at[:going], v[:going]
        mine, open_to = limits.of_first(going), ways.of_first(going)
        for k in stretch:
            places[k, :going], speeds[k, :going] = at, v
            want = mine.wanted(k, aims[k, :going] - at)
            change = mine.change(v, want)
            free = open_to.free(k, at, want) if ways.closed[k] else None
            if free is None:
                at = at + step * (v + 0.5 * change)
                v = v + change
            else:
                at = at + step * free * (v + 0.5 * free * change)
                v = v + free * change
    held = ways.held()
    made = {
        index: _marking(script, step, places[:, i], speeds[:, i], held[:, i])
        for i, (index, script) in enumerate(zip(order, ranked, strict=True))
    }
    return [made[index] for index in range(len(scripts))]


def _marking(script: Script, step: float, places: Places, speeds: Places, held: Floats) -> Marking:
    """One script's own part of what was moved together: places and speeds (t, 5), held (t, o)."""
    n = len(script.times)
    return Marking(
        script.pace,
        script.guarding,
        step,
        places[:n],
        speeds[:n],
        script.guards,
        script.obstacles,
        held[:n, : len(script.obstacles)],
    )


def _stretches(ranked: Sequence[Script]) -> Iterator[tuple[int, range]]:
    """How many of the scripts, the longest first, go on through which steps."""
    begin = 0
    for going in range(len(ranked), 0, -1):
        end = len(ranked[going - 1].times)
        if end > begin:
            yield going, range(begin, end)
            begin = end


def _padded(values: NDArray[Number], n: int) -> NDArray[Number]:
    return np.concatenate([values, np.repeat(values[-1:], n - len(values), axis=0)])


class _Limits:
    """How quickly speed and direction can change in a step.

    Constants are columns (scripts, 1); ``drift`` and ``closing`` (n, scripts, 5) are how the
    wanted places move, and how fast they may be closed in on for each root of a metre.
    """

    def __init__(self, scripts: Sequence[Script], step: float, aims: Places) -> None:
        def column(values: list[float]) -> Floats:
            return np.array(values)[:, None]

        paces = [script.pace for script in scripts]
        self.top = column([pace.game_speed for pace in paces])
        self.push = -np.expm1(-step / column([pace.time_constant for pace in paces]))
        braking = column([pace.braking for pace in paces])
        self.grip = step * braking
        self.slip = -self.grip
        self.drift = np.diff(aims, axis=0, append=aims[-1:]) / step
        care = 1.0 - (1.0 - CAREFUL) * np.minimum(np.abs(self.drift) / RUNS, 1.0)
        self.closing = np.sqrt(2.0 * care * braking)

    def of_first(self, going: int) -> _Limits:
        """The limits of the first scripts alone."""
        first = copy(self)
        for name in ("top", "push", "grip", "slip"):
            setattr(first, name, getattr(self, name)[:going])
        first.drift, first.closing = self.drift[:, :going], self.closing[:, :going]
        return first

    def wanted(self, k: int, gap: Places) -> Places:
        """The velocities that would bring them to wanted places ``gap`` away, which move."""
        closing = self.closing[k] / np.sqrt(np.abs(gap) + 1e-12)
        want = self.drift[k] + gap * np.minimum(closing, 1.0 / SOFT)
        want *= self.top / np.maximum(np.abs(want), self.top)
        return np.asarray(want)

    def change(self, v: Places, want: Places) -> Places:
        """What a step adds to the velocities, on the way to the wanted ones."""
        change = want - v
        speed = np.abs(v)
        heading = np.where(speed > 0.05, v, change)
        heading /= np.abs(heading) + 1e-12
        turn = change * heading.conj()
        turn.real = np.minimum(np.maximum(turn.real, self.slip), (self.top - speed) * self.push)
        turn.imag = np.minimum(np.maximum(turn.imag, self.slip), self.grip)
        return np.asarray(heading * turn)


class _Ways:
    """Whose way is blocked: arrays over scripts and obstacles, padded with ones that never are."""

    def __init__(self, scripts: Sequence[Script], step: float, n: int) -> None:
        most = max(len(script.obstacles) for script in scripts)
        shape = (len(scripts), most)
        self.step = step
        self.rows = np.arange(len(scripts))[:, None]
        self.at, self.whose = np.zeros(shape, dtype=np.complex128), np.zeros(shape, dtype=np.intp)
        self.left, self.holds = np.zeros(shape), np.zeros((*shape, 5))
        begin, end = np.full(shape, np.inf), np.full(shape, np.inf)
        self.body = np.array([[script.guarding.screen_body] for script in scripts])
        self.arm = np.array([[script.guarding.screen_arm] for script in scripts])
        for i, script in enumerate(scripts):
            for j, each in enumerate(script.obstacles):
                self.at[i, j], self.whose[i, j] = each.at, each.index
                begin[i, j], end[i, j] = each.begin, each.end
                self.left[i, j], self.holds[i, j, each.index] = each.seconds, 1.0
        times = step * np.arange(n)[:, None, None]
        self.stands = np.clip(np.minimum(end, times + step) - np.maximum(begin, times), 0.0, step)
        self.stands /= step
        self.closed = (self.stands > 0.0).any(axis=(1, 2)) if most else np.zeros(n, dtype=bool)
        self.most, self.spent = self.left.copy(), np.zeros((n + 1, *shape))

    def of_first(self, going: int) -> _Ways:
        """The ways of the first scripts alone; what they spend stands with that of all."""
        first = copy(self)
        for name in ("rows", "at", "whose", "left", "holds", "body", "arm", "most"):
            setattr(first, name, getattr(self, name)[:going])
        first.stands, first.spent = self.stands[:, :going], self.spent[:, :going]
        return first

    def held(self) -> Floats:
        """(n, scripts, obstacles): the seconds that each has cost by then."""
        return np.asarray(np.maximum.accumulate(self.spent, axis=0)[:-1])

    def free(self, k: int, at: Places, want: Places) -> Floats | None:
        """(scripts, 5): the share of a step in which each defender can move.

        None where nobody has come near to a screen that stands: all can, and that is most steps.
        """
        stands = self.stands[k]
        away = self.at - at[self.rows, self.whose]
        near = self.arm - np.abs(away)
        if not ((near > 0.0) & (stands > 0.0)).any():
            return None
        way = want[self.rows, self.whose]
        speed = np.abs(way)
        seen = away * way.conj() / np.maximum(speed, 1e-9)
        room = _share((self.arm - np.abs(seen.imag)) / np.maximum(self.arm - self.body, 1e-9))
        ahead = _share(seen.real / EDGE) * np.minimum(speed / WALKS, 1.0)
        share = np.minimum(room * ahead * _share(near / EDGE) * stands, self.left / self.step)
        self.left -= share * self.step
        self.spent[k + 1] = self.most - self.left
        return np.asarray(1.0 - (share[:, :, None] * self.holds).max(axis=1))


def _share(values: Floats) -> Floats:
    """Held between 0 and 1; quicker than numpy's clip on a few numbers."""
    return np.asarray(np.minimum(np.maximum(values, 0.0), 1.0))
