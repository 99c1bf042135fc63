"""A throw from one place to another: how long it flies and how high it is on the way.

Metres and seconds. A straight pass hangs in the air too: what it falls in its time it has to
be thrown up before. Heights follow from the heights of the people: a chest pass leaves and
arrives at 0.72 of the height, hands over the head are at 1.2 of it (choices of ours). A lob
is the lowest arc that clears the raised and jumping hand of a defender who fronts the
receiver.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from plays.core.motion.flight import (
    GRAVITY,
    Arc,
    Hurdle,
    bounce_time,
    lob,
    straight_time,
)
from plays.core.motion.pace import Pace
from plays.core.motion.sprint import Floats
from plays.core.play import PassKind

CHEST = 0.72  # share of the height
OVER_HEAD = 1.2  # share of the height, where an overhead pass or a lob leaves the hands
HIGH = 1.1  # share of the height, where an overhead pass is caught
HIP = 0.5  # share of the height, where a bounce pass starts and ends
FRONTING = 0.8  # metres in front of the receiver at which a fronting defender stands
OVER_THE_HAND = 0.27  # ball radius 0.12 m and 0.15 m to spare
NEAR = 0.3  # metres; a shorter throw is a hand-over
ARM = 0.3  # metres in front of the body at which a ball leaves the hands, and is caught


@dataclass(frozen=True, slots=True)
class Throw:
    """A throw by itself, without when and where. ``arc`` only for a lob.

    ``seconds`` is the flight; ``high`` (start, end) the heights; ``speed`` out of the hand.
    """

    kind: PassKind
    length: float
    seconds: float
    speed: float
    drag: float
    high: tuple[float, float]
    arc: Arc | None = None
    clears: tuple[float, float] | None = None  # (metres along, height) of the hand a lob clears

    def seconds_at(self, shares: Floats) -> Floats:
        """Seconds after release at which the ball is at shares (n,) of the way."""
        if self.kind is PassKind.DIRECT or self.kind is PassKind.OVERHEAD:
            flown = np.clip(shares * self.length - ARM, 0.0, between_hands(self.length))
            return np.asarray(np.expm1(self.drag * flown) / (self.drag * self.speed))
        return np.asarray(shares * self.seconds)

    def heights(self, shares: Floats) -> Floats:
        """Height of the ball at shares (n,) of the way."""
        begin, end = self.high
        line = begin + (end - begin) * shares
        if self.kind is PassKind.BOUNCE:
            return np.where(shares < 2 / 3, begin * (1 - 1.5 * shares), end * (3 * shares - 2))
        if self.clears is None:
            falls = GRAVITY / 2.0 * self.seconds**2
            return np.asarray(line + falls * shares * (1 - shares))
        at, height = self.clears[0] / self.length, self.clears[1]
        rise = (height - begin - (end - begin) * at) / (at * (1 - at))
        return np.asarray(line + rise * shares * (1 - shares))


def throw(kind: PassKind, length: float, thrower: Pace, defender: Pace) -> Throw:
    """The throw over ``length`` metres; ``defender`` is whom a lob has to clear."""
    if length < NEAR:
        high = (CHEST * thrower.height,) * 2
        return Throw(kind, max(length, 1e-3), 0.0, thrower.direct_speed, thrower.ball_drag, high)
    if kind is PassKind.LOB:
        return _lob(length, thrower, defender)
    flown, drag = between_hands(length), thrower.ball_drag
    speed = out_of_hand(kind, length, thrower)
    if kind is PassKind.BOUNCE:
        hip = HIP * thrower.height
        return Throw(kind, length, bounce_time(flown, speed, drag, hip), speed, drag, (hip, hip))
    begin, end = (CHEST, CHEST) if kind is PassKind.DIRECT else (OVER_HEAD, HIGH)
    high = (begin * thrower.height, end * thrower.height)
    return Throw(kind, length, straight_time(flown, speed, drag), speed, drag, high)


def between_hands(length: float) -> float:
    """What is left for the ball to fly between two people so far apart."""
    return max(length - 2.0 * ARM, length / 4.0)


def out_of_hand(kind: PassKind, length: float, thrower: Pace) -> float:
    """The speed at release that keeps the mean up against the drag, as far as the arm has it."""
    slowed = thrower.ball_drag * between_hands(length)
    mean = thrower.pass_speed(kind, length)
    return min(mean * math.expm1(slowed) / slowed, thrower.arm_speed)


def _lob(length: float, thrower: Pace, defender: Pace) -> Throw:
    begin, end = OVER_HEAD * thrower.height, thrower.reach
    at = max(length - FRONTING, length / 2.0)
    clear = defender.jump_reach + OVER_THE_HAND
    drag = thrower.ball_drag
    arc = lob(Hurdle(begin, end, round(length, 3), round(at, 3), clear), drag)
    if arc is None:  # hands so high that a straight throw clears
        speed = out_of_hand(PassKind.OVERHEAD, length, thrower)
        flat = straight_time(between_hands(length), speed, drag)
        return Throw(PassKind.LOB, length, flat, speed, drag, (begin, end))
    high = (begin, end)
    return Throw(PassKind.LOB, length, arc.seconds, arc.speed, drag, high, arc, (at, clear))
