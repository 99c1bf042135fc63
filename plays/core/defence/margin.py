"""How much too late the defence is: the margin of a look, in seconds.

For each release, each defender and each point of the passing lane: when the defender's hand
can be there, less when the ball is. The smallest of these is the margin. A defender reacts
to the throw, then runs from where they are and as they move (``reach``); a hand that needs no
step is there after the reaction, a body in the way at once. A point where the ball flies over
a jumping hand is safe, and behind the receiver's back a hand reaches half as far. The last
point is the catch itself, in hands held out towards the ball. Passers pass around their own
defender, and a lob is caught behind the back of the defender it is thrown over.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.defence.guarding import Guarding
from plays.core.defence.march import Marking
from plays.core.defence.reach import arrival
from plays.core.motion.pace import Pace
from plays.core.motion.path import Places
from plays.core.motion.sprint import Floats
from plays.core.motion.throw import Throw
from plays.core.motion.timeline import Window
from plays.core.play import ROLES, PassKind, Role

Guards = NDArray[np.intp]

POINTS: Final = 32  # of the lane at the release that is judged
FEWER: Final = 8  # of the lane at every other release
FROM: Final = 0.5  # metres from the passer's hand at which the lane begins
EVERY: Final = 0.2  # seconds between the releases that are tried
SOFTLY: Final = 0.5  # metres over which one rule goes over into another, so that nothing jumps
FINGERS: Final = 0.2  # metres over a jumping hand from which on the ball is out of reach
OUT: Final = 1.5  # seconds that a defender loses under a lob that is thrown over them
SAFE: Final = 9.0  # seconds: the margin of a point that nobody can reach


@dataclass(frozen=True, slots=True)
class Parts:
    """What one margin is made of: where ball and hand come nearest, and when each is there.

    ``flight``, ``reaction`` and ``run`` are seconds, margin = reaction + run - flight;
    ``metres`` is how far the defender has to come, ``reach`` what the arm makes of it, ``along``
    how far from the passer it is on a way of ``length``.
    """

    stopper: Role
    defender: int
    flight: float
    reaction: float
    run: float
    metres: float
    reach: float
    along: float
    length: float

    @property
    def at_catch(self) -> bool:
        """Whether it is decided at the catch, and not on the way."""
        return self.along > 0.9 * self.length - 0.5

    def to_json(self) -> dict[str, float | str]:
        return {
            "stopper": self.stopper,
            "flight": round(self.flight, 2),
            "reaction": round(self.reaction, 2),
            "run": round(self.run, 2),
            "metres": round(self.metres, 2),
            "reach": round(self.reach, 2),
            "along": round(self.along, 2),
            "length": round(self.length, 2),
        }


def releases_of(window: Window) -> Floats:
    """The moments at which a throw is tried: from the earliest to the latest."""
    last = max(window.latest, window.earliest)
    count = 1 + int(np.ceil((last - window.earliest) / EVERY - 1e-9))
    return np.linspace(window.earliest, last, max(count, 1))


def curve(window: Window, marking: Marking) -> Floats:
    """The margins at ``releases_of`` a window: for looking at, with few points."""
    return np.asarray(_Throws.of(window, marking, releases_of(window), FEWER).late.min(axis=(1, 2)))


def judged(
    window: Window, marking: Marking, release: float, points: int = POINTS
) -> tuple[float, Parts]:
    """The margin of a throw at one release, and its parts."""
    return _Throws.of(window, marking, np.array([release]), points).parts()


@dataclass(frozen=True, slots=True, eq=False)
class _Throws:
    """Throws at some releases: ``late`` (releases, points, 5) and what it is made of."""

    window: Window
    lane: Lane
    late: Floats
    gaps: Places
    reach: Floats
    guarded: Guards
    lag: float

    @classmethod
    def of(cls, window: Window, marking: Marking, releases: Floats, points: int) -> _Throws:
        pace, guarding = marking.pace, marking.guarding
        now = np.minimum((releases / marking.step).astype(np.intp), len(marking.guards) - 1)
        guarded = marking.guards[now]
        seen = marking.at(releases + pace.choose)
        beside = seen[0] if len(releases) == 1 else None
        lane = Lane.of(window, guarding, points, beside=beside, high=pace.jump_reach)
        reach = hands(window, seen[0], pace.side_reach, guarding)
        late = lateness(lane, seen, reach, pace, guarding)
        late += thrown_over(window, seen[0], guarded, pace, guarding)[:, None, :]
        late = np.where(_passed_around(window, lane, guarded, guarding), SAFE, late)
        gaps = lane.places[:, None] - seen[0][:, None, :]
        return cls(window, lane, late, gaps, reach, guarded, pace.choose)

    def parts(self) -> tuple[float, Parts]:
        """Those of the first release."""
        point, defender = np.unravel_index(int(self.late[0].argmin()), self.late[0].shape)
        margin = float(self.late[0, point, defender])
        flight = float(self.lane.seconds[point])
        arrives = margin + flight
        reaction = min(self.lag, max(arrives, 0.0))
        found = Parts(
            stopper=ROLES[int(self.guarded[0, defender])],
            defender=int(defender),
            flight=flight,
            reaction=reaction,
            run=arrives - reaction,
            metres=float(np.abs(self.gaps[0, point, defender])),
            reach=max(float(self.reach[0, defender]), 0.0),
            along=float(self.lane.along[point]),
            length=self.window.throw.length,
        )
        return margin, found


@dataclass(frozen=True, slots=True, eq=False)
class Lane:
    """The way of the ball in points (n,): where, when after release, and how high."""

    places: Places
    along: Floats
    seconds: Floats
    heights: Floats

    @classmethod
    def of(
        cls,
        window: Window,
        guarding: Guarding,
        points: int = POINTS,
        beside: Places | None = None,
        high: float = np.inf,
    ) -> Lane:
        """From just off the passer's hand to the receiver's hands; a lob all the way down.

        With the points right ``beside`` these places, where a body is nearest to the ball, and
        those where it comes under hands that are so ``high``.
        """
        length = max(window.throw.length, 1e-9)
        ahead = 0.0 if window.throw.kind is PassKind.LOB else guarding.hands
        end = max(length - ahead, length / 2.0)
        way = (window.target - window.origin) / length
        begin = min(FROM, end / 2.0)
        extra = [guarding.around]  # where the passer's own defender begins to count
        if beside is not None:
            extra += list(((beside - window.origin) * np.conj(way)).real.ravel())
            extra += [length * share for share in _comes_under(window.throw, high)]
        along = np.linspace(begin, end, points)
        along = np.sort(np.concatenate([along, np.clip(extra, begin, end)]))
        shares = along / length
        places = np.asarray(window.origin + way * along, dtype=np.complex128)
        heights = window.throw.heights(shares)
        heights[-1] = min(heights[-1], window.throw.high[1])  # it comes down into the hands
        return cls(places, along, window.throw.seconds_at(shares), heights)


@lru_cache(maxsize=1024)
def _comes_under(throw: Throw, high: float) -> tuple[float, ...]:
    """Shares of the way close before and after each place where the ball crosses a height."""
    fine = np.linspace(0.0, 1.0, 200)
    under = np.diff(throw.heights(fine) <= high)
    return (*fine[:-1][under].tolist(), *fine[1:][under].tolist())


def lateness(
    lane: Lane, seen: tuple[Places, Places], hand: Floats, pace: Pace, guarding: Guarding
) -> Floats:
    """(releases, points, defenders): hand less ball, in seconds.

    ``seen`` are the defenders' places and velocities (releases, 5) as their reaction ends,
    ``hand`` (releases, 5) how far each reaches to the side.
    """
    places, velocities = (values[:, None, :] for values in seen)
    gaps = lane.places[:, None] - places
    reach = np.broadcast_to(hand[:, None, :], gaps.shape)
    moving = np.broadcast_to(velocities, gaps.shape)
    runs = arrival(gaps, moving, reach, pace.game_speed, pace.time_constant)
    near = np.clip(np.abs(gaps) / max(guarding.body, 1e-9) - 1.0, 0.0, 1.0)
    arrives = near * pace.choose + runs
    over = np.clip((lane.heights - pace.jump_reach) / FINGERS, 0.0, 1.0)
    return np.asarray(arrives + SAFE * over[:, None] - lane.seconds[:, None])


def hands(window: Window, places: Places, reach: float, guarding: Guarding) -> Floats:
    """(releases, 5): how far each defender's hand reaches to the side."""
    if window.throw.kind is PassKind.LOB:
        return np.full(places.shape, reach)
    low = guarding.low_ball if window.throw.kind is PassKind.BOUNCE else 1.0
    beyond = _ramp(_from_catch(window, places).real)
    return np.asarray((1.0 - (1.0 - guarding.behind) * beyond) * reach * low)


def thrown_over(
    window: Window, places: Places, guarded: Guards, pace: Pace, guarding: Guarding
) -> Floats:
    """(releases, 5): the seconds lost by the defender in front, under a lob.

    Who is near is out of it; who is further up the lane has to turn, or has the back to the ball.
    """
    if window.throw.kind is not PassKind.LOB:
        return np.zeros(places.shape)
    away = _from_catch(window, places)
    his = guarded == ROLES.index(window.look.receiver)
    near, under = _ramp(guarding.over - np.abs(away)), _ramp(guarding.over - np.abs(away.imag))
    lost = near * OUT + (1.0 - near) * under * pace.turn_180
    return np.asarray(lost * his * _ramp(-away.real))


def _from_catch(window: Window, places: Places) -> Places:
    """Where the defenders are from the catch, with the way of the ball as the first axis."""
    way = (window.target - window.origin) / max(window.throw.length, 1e-9)
    return np.asarray((places - window.target) * np.conj(way))


def _ramp(metres: Floats) -> Floats:
    """0 well below nothing, 1 well above, and halfway at nothing."""
    return np.clip(0.5 + metres / SOFTLY, 0.0, 1.0)


def _passed_around(
    window: Window, lane: Lane, guarded: Guards, guarding: Guarding
) -> NDArray[np.bool_]:
    """(releases, points, 5): the passer finds a way round their own defender."""
    own = guarded == ROLES.index(window.look.passer)
    return np.asarray((lane.along < guarding.around - 1e-9)[None, :, None] & own[:, None, :])
