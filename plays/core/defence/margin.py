"""How much too late the defence is: the margin of a look, in seconds.

For each release, each defender and each point of the passing lane: when the defender's hand
can be there, less when the ball is. The smallest of these is the margin. A defender reacts
to the throw, then runs from where they are and as they move; a hand that needs no step is
there after the reaction, a body in the way at once. A point where the ball flies over a
jumping hand is safe, and behind the receiver's back a hand reaches half as far. The last
point is the catch itself, in hands held out towards the ball. Passers pass around their own
defender, and a lob is caught behind the back of the defender it is thrown over.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from plays.core.defence.march import REACTIONS, Marking
from plays.core.motion.pace import Pace
from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats, time
from plays.core.motion.timeline import Window
from plays.core.play import ROLES, PassKind, Role

Guards = NDArray[np.intp]

POINTS = 16  # of the lane
FROM = 0.5  # metres from the passer's hand at which the lane begins
HANDS = 0.5  # metres in front of the receiver at which the ball is caught
BODY = 0.35  # metres: a ball that passes this near hits the defender, who need not react
BEHIND = 0.5  # share of the side reach that is left behind the receiver's back
REACHES = (-0.2, 0.2)  # metres by which the reach is changed for the band
AROUND = 2.2  # metres of the lane within which the passer's own defender is passed around
IN_FRONT = 1.5  # metres in front of the receiver within which a lob is thrown over a defender
OUT = -99.0  # metres: the reach of somebody who is out of it
BASE = 0  # the row that is neither faster nor longer
VARIANTS = ((1, 0.0), (0, 0.0), (2, 0.0), (1, REACHES[0]), (1, REACHES[1]))
EVERY = 0.1  # seconds between the releases that are tried
FAR = 600.0  # metres; nobody is further away
SAFE = 9.0  # seconds: the margin of a point that nobody can reach
LOW_BALL = 0.8  # share of the side reach that is left for a bounce pass


@dataclass(frozen=True, slots=True, eq=False)
class Margins:
    """``all`` (5, releases): the margin as it is, and with reaction and reach changed."""

    releases: Floats
    all: Floats
    first: NDArray[np.intp]  # (releases,): the man of the defender who is first there

    @property
    def base(self) -> Floats:
        return np.asarray(self.all[BASE])

    def band(self, index: int) -> tuple[float, float]:
        """The smallest and greatest margin at one release."""
        return float(self.all[:, index].min()), float(self.all[:, index].max())

    def stopper(self, index: int) -> Role:
        return ROLES[int(self.first[index])]


def releases_of(window: Window) -> Floats:
    """The moments at which a throw is tried: from the earliest to the latest."""
    last = max(window.latest, window.earliest)
    count = 1 + int(np.ceil((last - window.earliest) / EVERY - 1e-9))
    return np.linspace(window.earliest, last, max(count, 1))


def margins(window: Window, marking: Marking, pace: Pace, points: int = POINTS) -> Margins:
    """The margins of a look over its window, against defenders who move as marked.

    Arrays run over variants of reaction and reach, releases, points and defenders.
    """
    releases = releases_of(window)
    lane = Lane.of(window, points)
    now = np.minimum((releases / marking.step).astype(np.intp), len(marking.guards) - 1)
    guarded = marking.guards[now]
    lags = np.array([max(pace.choose + more, 0.0) for more in REACTIONS])
    seen = [marking.at(releases + lag, index) for index, lag in enumerate(lags)]
    places = np.stack([seen[reaction][0] for reaction, _ in VARIANTS])
    speeds = np.stack([seen[reaction][1] for reaction, _ in VARIANTS])
    reaches = np.array([max(pace.side_reach + reach, 0.0) for _, reach in VARIANTS])
    hand = hands(window, places, guarded, reaches[:, None, None])
    lag = lags[[reaction for reaction, _ in VARIANTS]]
    late = lateness(lane, (places, speeds), hand, lag[:, None, None, None], pace)
    late = np.where(_passed_around(window, lane, guarded), SAFE, late)
    by_defender = late.min(axis=2)
    who = by_defender[BASE].argmin(axis=1)
    first = np.take_along_axis(guarded, who[:, None], axis=1)[:, 0]
    return Margins(releases, by_defender.min(axis=2), first)


@dataclass(frozen=True, slots=True, eq=False)
class Lane:
    """The way of the ball in points (n,): where, when after release, and how high."""

    places: Places
    along: Floats
    seconds: Floats
    heights: Floats

    @classmethod
    def of(cls, window: Window, points: int = POINTS) -> Lane:
        """From just off the passer's hand to the receiver's hands; a lob all the way down."""
        length = max(window.throw.length, 1e-9)
        ahead = 0.0 if window.throw.kind is PassKind.LOB else HANDS
        end = max(length - ahead, length / 2.0)
        along = np.linspace(min(FROM, end / 2.0), end, points)
        shares = along / length
        way = (window.target - window.origin) / length
        places = np.asarray(window.origin + way * along, dtype=np.complex128)
        heights = window.throw.heights(shares)
        heights[-1] = min(heights[-1], window.throw.high[1])  # it comes down into the hands
        return cls(places, along, window.throw.seconds_at(shares), heights)


def lateness(
    lane: Lane, seen: tuple[Places, Places], hand: Floats, lag: Floats, pace: Pace
) -> Floats:
    """(..., releases, points, defenders): hand less ball, in seconds.

    ``seen`` are the defenders' places and velocities (..., releases, 5) as their reaction
    ends, ``hand`` (..., releases, 5) how far each reaches to the side.
    """
    places, velocities = (values[..., None, :] for values in seen)
    gaps = lane.places[:, None] - places
    away = np.abs(gaps)
    closing = (velocities * gaps.conj()).real / np.maximum(away, 1e-9)
    reach = hand[..., None, :]
    needs = np.maximum(away - reach, 0.0)
    runs = _run_times(needs, np.maximum(closing, 0.0), pace.game_speed, pace.time_constant)
    arrives = np.where((away < BODY) & (reach > 0.0), 0.0, lag + runs)
    over = lane.heights > pace.jump_reach
    return np.where(over[:, None], SAFE, arrives - lane.seconds[:, None])


def _run_times(metres: Floats, speeds: Floats, top: float, constant: float) -> Floats:
    """``moving_time`` out of a table in the root of the distance, good to a ten-thousandth."""
    roots, seconds = _table(top, constant)
    share = np.minimum(speeds / top, 0.999)
    before = -constant * np.log1p(-share)
    start = top * before - constant * speeds
    return np.interp(np.sqrt(np.maximum(metres + start, 0.0)), roots, seconds) - before


@lru_cache(maxsize=256)
def _table(top: float, constant: float) -> tuple[Floats, Floats]:
    roots = np.linspace(0.0, FAR**0.5, 600)
    return roots, time(roots**2, top, constant)


def hands(window: Window, places: Places, guarded: Guards, reach: Floats) -> Floats:
    """(..., releases, 5): how far each defender's hand reaches to the side.

    Under a lob the defender it is thrown over, who stands in front, is out of it (-1).
    """
    way = (window.target - window.origin) / max(window.throw.length, 1e-9)
    from_catch = (places - window.target) * np.conj(way)
    beyond = from_catch.real > 0.0
    if window.throw.kind is PassKind.LOB:
        his = guarded == ROLES.index(window.look.receiver)
        return np.where(his & ~beyond & (np.abs(from_catch) < IN_FRONT), OUT, reach)
    low = LOW_BALL if window.throw.kind is PassKind.BOUNCE else 1.0
    return np.asarray(np.where(beyond, BEHIND, 1.0) * reach * low)


def _passed_around(window: Window, lane: Lane, guarded: Guards) -> NDArray[np.bool_]:
    """(releases, points, 5): the passer finds a way round their own defender."""
    own = guarded == ROLES.index(window.look.passer)
    return np.asarray((lane.along < AROUND)[None, :, None] & own[:, None, :])
