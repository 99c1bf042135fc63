"""What is known of a play in time: who is where when, and where the ball is.

Times are seconds since the ball was at the thrower's disposal, places complex numbers,
x + iy in metres. These are values; ``motion`` makes them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from plays.core.motion.pace import Pace
from plays.core.motion.path import Places
from plays.core.motion.run import Dash
from plays.core.motion.sprint import Floats
from plays.core.motion.throw import Throw
from plays.core.play import ROLES, ActionKind, Look, Play, Role

SHOT: Final = 0.6  # seconds from catch to release of a shot; ours


@dataclass(frozen=True, slots=True)
class Span:
    """The moments of one action.

    ``start`` is the first push; ``arrive`` when the movement is done; ``set`` when a
    screener stands still; ``release`` when a ball leaves the hand; ``end`` when it is done: a
    pass is caught, and a screen or hold at least set or begun (it lasts until the role's next
    start).
    """

    action: str
    role: Role
    kind: ActionKind
    start: float
    arrive: float
    end: float
    set: float | None = None
    release: float | None = None


@dataclass(frozen=True, slots=True)
class Move:
    """A run and when it starts."""

    action: str
    start: float
    run: Dash

    @property
    def end(self) -> float:
        return self.start + self.run.seconds


@dataclass(frozen=True, slots=True)
class Track:
    """Where one role is at any moment."""

    start: complex
    moves: tuple[Move, ...]

    def places(self, times: Floats, skip: frozenset[str] = frozenset()) -> Places:
        """Places at sorted times (n,); the actions in ``skip`` are not run."""
        out, last = np.empty(len(times), dtype=np.complex128), len(times)
        for move in reversed(self.moves):  # each until the one after it begins
            first = int(times.searchsorted(move.start))
            if move.action in skip or first >= last:
                continue
            out[first:last] = move.run.path.at(move.run.along(times[first:last] - move.start))
            last = first
        out[:last] = self.start
        return out

    def speeds(self, times: Floats) -> Floats:
        """Speeds at sorted times (n,)."""
        out = np.zeros(len(times))
        for move in self.moves:
            first, last = times.searchsorted((move.start, move.end))
            if first < last:
                out[first:last] = move.run.speeds(times[first:last] - move.start)
        return out

    def at(self, moment: float) -> complex:
        return complex(self.places(np.array([moment]))[0])


@dataclass(frozen=True, slots=True)
class Flight:
    """A ball in the air, or from hand to hand. ``source`` is an action's or a look's id."""

    source: str
    passer: Role
    receiver: Role
    origin: complex
    target: complex
    release: float
    catch: float
    throw: Throw


@dataclass(frozen=True, slots=True)
class Window:
    """When a look can be thrown.

    ``ready``: the passer can throw; ``arrival``: the receiver is at the catch; ``earliest`` and
    ``latest`` release, the latter by the count or because the receiver leaves; ``in_turn``:
    the earliest release for a passer who has first looked at those before it. ``given`` is the
    look by which the passer has the ball, if it is one.
    """

    look: Look
    index: int
    ready: float
    arrival: float
    earliest: float
    in_turn: float
    latest: float
    leaves: float | None
    origin: complex
    target: complex
    throw: Throw
    counted: bool
    given: str | None = None

    @property
    def opens(self) -> bool:
        """Whether there is any moment for it at all, within the count if it is counted."""
        return self.earliest <= self.latest + 1e-9

    def catch(self, release: float) -> float:
        """When a ball released then is in the receiver's hands."""
        return max(release + self.throw.seconds, self.arrival)


@dataclass(frozen=True, slots=True)
class Timeline:
    """A play in time, without a defence.

    ``after_in`` names the actions that wait for the throw-in to be caught: as long as the
    thrower still holds the ball, nobody has begun them.
    """

    play: Play
    pace: Pace
    paces: Mapping[Role, Pace]
    signal: float
    spans: Mapping[str, Span]
    tracks: Mapping[Role, Track]
    flights: tuple[Flight, ...]
    windows: tuple[Window, ...]
    ball_in: float | None
    after_in: frozenset[str]
    end: float

    def places(self, times: Floats, *, still_out: bool = False) -> Places:
        """(len(times), 5): where roles 1 to 5 are at sorted times.

        With ``still_out`` as if the ball had not been thrown in yet.
        """
        skip = self.after_in if still_out else frozenset()
        return np.stack([self.tracks[role].places(times, skip) for role in ROLES], axis=1)

    def speeds(self, times: Floats) -> Floats:
        """(len(times), 5): how fast they are, in m/s."""
        return np.stack([self.tracks[role].speeds(times) for role in ROLES], axis=1)

    def move(self, action: str) -> Move | None:
        """The run of an action, if it has one."""
        role = self.spans[action].role
        return next((move for move in self.tracks[role].moves if move.action == action), None)

    def window(self, look: str) -> Window:
        """Raises KeyError for an unknown look."""
        return {window.look.id: window for window in self.windows}[look]

    def holder(self, moment: float) -> Role | None:
        """Who has the ball; None while it flies."""
        held: Role | None = self.play.ball
        for flight in self.flights:
            if moment >= flight.release:
                held = flight.receiver if moment >= flight.catch else None
        return held
