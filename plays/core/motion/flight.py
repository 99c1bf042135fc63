"""How the ball flies: straight passes with drag, bounces, lobs that clear a reach.

Metres, seconds, metres per second. Air drag is -k |v| v with k = rho Cd A / 2m; buoyancy
(1.5 % of the weight) and spin are left out. A straight pass is reckoned along its line, as
its drop is small against its length.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

GRAVITY = 9.81
AIR_DENSITY = 1.204  # kg/m3, dry air at 20 degrees C
DRAG_COEFFICIENT = 0.5  # a sphere at these speeds; 0.47 to 0.54 from memory
BOUNCE_AT = 2.0 / 3.0  # share of the way at which a bounce pass meets the floor: coaching habit
STEP = 0.02  # seconds, of the integration of a lob


def drag_constant(mass: float, circumference: float) -> float:
    """k in 1/m, for a ball of so many kg and so many metres round."""
    area = circumference**2 / (4.0 * math.pi)
    return AIR_DENSITY * DRAG_COEFFICIENT * area / (2.0 * mass)


def straight_time(length: float, speed: float, drag: float) -> float:
    """Seconds for a pass of ``length`` that leaves the hand at ``speed``."""
    return math.expm1(drag * length) / (drag * speed) if drag > 0 else length / speed


def bounce_time(length: float, speed: float, drag: float, height: float) -> float:
    """Seconds for a bounce pass from and to ``height``, by way of the floor.

    The slant makes the way longer. The floor takes a share of the downward speed only, so
    the second leg runs on at the speed along the floor.
    """
    first = math.hypot(length * BOUNCE_AT, height)
    down = straight_time(first, speed, drag)
    along = speed * math.exp(-drag * first) * (length * BOUNCE_AT / first)
    return down + straight_time(length * (1.0 - BOUNCE_AT), max(along, 0.1), drag)


@dataclass(frozen=True, slots=True)
class Arc:
    """A thrown ball: ``speed`` and ``angle`` (radians) at release, ``seconds`` to the catch.

    ``over`` is when it passes the defender, ``top`` its greatest height.
    """

    speed: float
    angle: float
    seconds: float
    over: float
    top: float


@dataclass(frozen=True, slots=True)
class Hurdle:
    """What a lob has to do: from one height to another, over a hand on the way.

    Heights of ``release`` and ``catch``; the catch is ``length`` away; ``clear`` high at ``at``.
    """

    release: float
    catch: float
    length: float
    at: float
    clear: float


def lowest_arc(hurdle: Hurdle, gravity: float = GRAVITY) -> Arc | None:
    """The fastest arc without drag that just clears; None when a straight line clears anyway."""
    length, at = hurdle.length, hurdle.at
    slope = (hurdle.catch - hurdle.release) / length
    bend = (hurdle.clear - hurdle.release - slope * at) / (at * (length - at))
    if bend <= 0.0:
        return None
    along = math.sqrt(gravity / (2.0 * bend))
    up = (slope + bend * length) * along
    top = hurdle.release + max(up, 0.0) ** 2 / (2.0 * gravity)
    speed, angle = math.hypot(along, up), math.atan2(up, along)
    return Arc(speed, angle, length / along, at / along, max(top, hurdle.catch))


@lru_cache(maxsize=4096)
def lob(hurdle: Hurdle, drag: float) -> Arc | None:
    """``lowest_arc`` with drag, by shooting: both heights are met by Newton steps.

    The launch found without drag falls 0.2 to 0.4 m short, so it is only where this begins.
    """
    vacuum = lowest_arc(hurdle)
    if vacuum is None or drag <= 0.0:
        return vacuum
    along = vacuum.speed * math.cos(vacuum.angle)
    up = vacuum.speed * math.sin(vacuum.angle)
    flown = _fly(along, up, hurdle, drag)
    for _ in range(12):
        if abs(flown.miss_at) + abs(flown.miss_end) < 1e-7:
            break
        along, up = _nearer(along, up, flown, hurdle, drag)
        flown = _fly(along, up, hurdle, drag)
    return Arc(math.hypot(along, up), math.atan2(up, along), flown.end, flown.at, flown.top)


@dataclass(frozen=True, slots=True)
class _Flown:
    """When the ball was over the hand and at the catch, and by how much it missed each."""

    at: float
    miss_at: float
    end: float
    miss_end: float
    top: float


def _nearer(
    along: float, up: float, flown: _Flown, hurdle: Hurdle, drag: float
) -> tuple[float, float]:
    """One Newton step for the two parts of the launch speed."""
    by_along = _fly(along + 1e-5, up, hurdle, drag)
    by_up = _fly(along, up + 1e-5, hurdle, drag)
    a = (by_along.miss_at - flown.miss_at) / 1e-5
    b = (by_up.miss_at - flown.miss_at) / 1e-5
    c = (by_along.miss_end - flown.miss_end) / 1e-5
    d = (by_up.miss_end - flown.miss_end) / 1e-5
    both = a * d - b * c
    return (
        along - (d * flown.miss_at - b * flown.miss_end) / both,
        up - (a * flown.miss_end - c * flown.miss_at) / both,
    )


State = tuple[float, float, float, float]  # x, y, and their speeds


def _fly(along: float, up: float, hurdle: Hurdle, drag: float) -> _Flown:
    """Runge-Kutta along the arc; the step that would cross a mark is cut to end on it."""
    state: State = (0.0, hurdle.release, along, up)
    clock, top = 0.0, hurdle.release
    met: list[tuple[float, float]] = []
    for mark in (hurdle.at, hurdle.length):
        while state[0] < mark - 1e-12 and clock < 20.0:
            step = min(STEP, max(straight_time(mark - state[0], state[2], drag), 1e-12))
            state = _advance(state, step, drag)
            clock, top = clock + step, max(top, state[1])
        met.append((clock, state[1]))
    over, end = met
    return _Flown(over[0], over[1] - hurdle.clear, end[0], end[1] - hurdle.catch, top)


def _advance(state: State, h: float, drag: float) -> State:
    x, y, u, w = state
    a1, b1 = _pull(u, w, drag)
    u2, w2 = u + h / 2 * a1, w + h / 2 * b1
    a2, b2 = _pull(u2, w2, drag)
    u3, w3 = u + h / 2 * a2, w + h / 2 * b2
    a3, b3 = _pull(u3, w3, drag)
    u4, w4 = u + h * a3, w + h * b3
    a4, b4 = _pull(u4, w4, drag)
    return (
        x + h / 6 * (u + 2 * u2 + 2 * u3 + u4),
        y + h / 6 * (w + 2 * w2 + 2 * w3 + w4),
        u + h / 6 * (a1 + 2 * a2 + 2 * a3 + a4),
        w + h / 6 * (b1 + 2 * b2 + 2 * b3 + b4),
    )


def _pull(u: float, w: float, drag: float) -> tuple[float, float]:
    force = drag * math.hypot(u, w)
    return -force * u, -GRAVITY - force * w
