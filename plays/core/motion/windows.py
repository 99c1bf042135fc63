"""When each look can be thrown: the release windows.

A look's earliest release is when the passer is ready and the receiver can be led to the
place of the catch. A weaker arm does not throw earlier to make up for a slower ball: the
lead is ``Pace.lead`` seconds for each metre, never more than the flight, a professional's or
the passer's own. The latest release is
the end of the count, when the receiver runs off, or when a cutter who came on the run has
stood there for ``FRESH`` seconds: then the advantage is gone.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from plays.core.motion.pace import Pace, professional_speed
from plays.core.motion.run import Legs
from plays.core.motion.sprint import moving_time
from plays.core.motion.throw import Throw, between_hands, throw
from plays.core.motion.timeline import Flight, Move, Span, Window
from plays.core.play import Action, ActionKind, Cut, Look, Play, Point, Role
from plays.core.sequence.after_look import entry_of
from plays.core.sequence.course import Leg, lane
from plays.core.sequence.cues import CueGraph

ON_THE_RUN = (None, Cut.STRAIGHT, Cut.CURL, Cut.ROLL, Cut.SLIP)
COUNT = 5.0  # seconds to release a throw-in, in every rule set: FIBA 17.3.1, NFHS 7-6-2, NBA 8-III
FRESH = 0.8  # seconds for which a cutter who arrives on the run is a look; ours
GRACE = 0.2  # seconds for which a receiver who leaves can still be hit; ours
PATIENCE = 3.0  # seconds for which a look in open play is followed; ours
PASSING = 0.6  # metres past the place of the catch at which a runner is gone; ours
NEAR_END = 0.3  # metres; a catch nearer to the end of the path than this is at its end
ASIDE = 1.0  # metres from the path at which a ball is still taken in passing; ours


@dataclass(slots=True)
class Known:
    """What the clock has worked out so far; grows action by action."""

    play: Play
    pace: Pace
    paces: Mapping[Role, Pace]
    legs: Mapping[str, Leg]
    cues: CueGraph
    spans: dict[str, Span] = field(default_factory=dict)
    after_in: frozenset[str] = frozenset()
    moves: dict[str, Move] = field(default_factory=dict)
    flights: list[Flight] = field(default_factory=list)
    lanes: dict[str, tuple[Point, Point]] = field(default_factory=dict)

    def lane_of(self, look: Look) -> tuple[Point, Point]:
        """From where to where a look is thrown, walked once for each."""
        if look.id not in self.lanes:
            self.lanes[look.id] = lane(self.play, look)
        return self.lanes[look.id]

    def legs_of(self, action: Action) -> Legs:
        """How the role runs in this action."""
        pace = self.paces[action.role]
        share = pace.easy if action.easy else 1.0
        if action.kind is ActionKind.DRIBBLE:
            share *= pace.dribble
        return Legs(pace.game_speed * share, pace.time_constant, pace.braking, pace.turn_180)


def windows(known: Known, ball_in: float | None) -> tuple[Window, ...]:
    """The window of every look at an action that is timed, in the play's order."""
    so_far = SoFar()
    for index, look in enumerate(known.play.looks):
        if look.action in known.spans:
            so_far.windows.append(window(known, look, index, so_far, ball_in))
    return tuple(so_far.windows)


def bringing_window(known: Known) -> Window | None:
    """That of the look which brings the ball in when no throw-in is written down: the first, or
    the one that the rotation is for, in its turn after those before it."""
    brings, so_far = entry_of(known.play), SoFar()
    for index, look in enumerate(known.play.looks):
        from_throw_in = look is brings or look.passer == known.play.thrower
        if from_throw_in and look.action in known.spans:
            so_far.windows.append(window(known, look, index, so_far, None))
        if look is brings:
            break
    return next((each for each in so_far.windows if each.look is brings), None)


@dataclass(slots=True)
class SoFar:
    """The looks so far: their windows, and from when each passer can turn to the next."""

    windows: list[Window] = field(default_factory=list)
    turns: dict[Role, float] = field(default_factory=dict)
    reads: dict[Role, tuple[tuple[Role, ...], float]] = field(default_factory=dict)

    def turn_of(self, look: Look) -> float:
        """From when the passer can turn to a look; one glance reads what the same defenders do."""
        turn = self.turns.get(look.passer, 0.0)
        if look.read is None:
            self.reads.pop(look.passer, None)
            return turn
        whose, since = self.reads.get(look.passer, (None, turn))
        turn = since if whose == look.read.whose else turn
        self.reads[look.passer] = (look.read.whose, turn)
        return turn

    def passed_up(self, passer: Role, turn: float) -> None:
        self.turns[passer] = max(turn, self.turns.get(passer, 0.0))

    def to(self, passer: Role) -> Window | None:
        """The last look before that gave this passer the ball."""
        return next((w for w in reversed(self.windows) if w.look.receiver == passer), None)


def window(known: Known, look: Look, index: int, so_far: SoFar, ball_in: float | None) -> Window:
    """One window; the passer's next turn moves on.

    Who throws in stands at the spot, another passer where they are at the release, or where
    they caught the ball while they stay; the receiver is where the look says.
    """
    here, there = known.lane_of(look)
    turn = so_far.turn_of(look)
    caught, given = _caught(known, look), _given(known, look, so_far)
    counted = caught is None and given is None and look.passer == known.play.thrower
    by = given if caught is None else None
    if by is not None:
        caught = by.catch(by.in_turn)
    ready = _ready(known, look, ball_in, caught)
    passing = _Passing(look, index, complex(*there), ready, turn, counted, by)
    found = _window(known, passing, complex(*here))
    moved = _held_at(known, look.passer, found.in_turn, given)
    if not counted and abs(moved - found.origin) > 0.01:
        found = _window(known, passing, moved)
    so_far.passed_up(look.passer, found.in_turn + known.paces[look.passer].glance)
    return found


@dataclass(frozen=True, slots=True)
class _Passing:
    """A look, its place in the order, the catch, from when it can be thrown, and by which look."""

    look: Look
    index: int
    target: complex
    ready: float
    turn: float
    counted: bool
    by: Window | None


def _window(known: Known, passing: _Passing, origin: complex) -> Window:
    look, target = passing.look, passing.target
    pace = known.paces[look.passer]
    made = throw(look.pass_kind, abs(target - origin), pace, known.pace)
    ignore = known.after_in if passing.counted else frozenset()
    arrival, leaves = _receiving(known, look, target, ignore)
    earliest = max(passing.ready, arrival - lead(pace, made))
    in_turn = max(earliest, passing.turn)
    limit = COUNT if passing.counted else in_turn + PATIENCE
    if on_the_run(known.legs[look.action].action):
        limit = min(limit, earliest + FRESH)
    if leaves is not None:
        led = earliest if earliest > passing.ready else -math.inf  # on the way out, but led
        limit = min(limit, max(leaves + GRACE - made.seconds, led))
    return Window(
        look=look,
        index=passing.index,
        ready=passing.ready,
        arrival=arrival,
        earliest=earliest,
        in_turn=in_turn,
        latest=limit,
        leaves=leaves,
        origin=origin,
        target=target,
        throw=made,
        counted=passing.counted,
        given=None if passing.by is None else passing.by.look.id,
    )


def look_flight(window: Window, release: float) -> Flight:
    """The ball of a look that is thrown at ``release``."""
    return Flight(
        source=window.look.id,
        passer=window.look.passer,
        receiver=window.look.receiver,
        origin=window.origin,
        target=window.target,
        release=release,
        catch=window.catch(release),
        throw=window.throw,
    )


def on_the_run(action: Action) -> bool:
    """Whether the receiver takes the ball in full stride."""
    return action.kind is ActionKind.CUT and action.cut in ON_THE_RUN and not action.easy


def lead(pace: Pace, made: Throw) -> float:
    """How long before the runner's arrival a pass is let go."""
    usual = between_hands(made.length) / professional_speed(made.length)
    return min(made.seconds, usual, pace.lead * made.length)


def _caught(known: Known, look: Look) -> float | None:
    """When the passer last caught a pass written before the look's action, if ever."""
    order = list(known.legs)
    until = order.index(look.action)
    caught = [
        flight.catch
        for flight in known.flights
        if flight.receiver == look.passer and order.index(flight.source) < until
    ]
    return max(caught, default=None)


def _given(known: Known, look: Look, so_far: SoFar) -> Window | None:
    """The look by which the passer has the ball; None for one who had it from the beginning."""
    first = look.passer == (known.play.thrower or known.play.ball)
    gone = any(flight.passer == look.passer for flight in known.flights)
    if first and not gone and look.action not in known.after_in:
        return None
    return so_far.to(look.passer)


def _held_at(known: Known, role: Role, moment: float, given: Window | None) -> complex:
    """Where a passer throws from: where the ball was caught, unless they ran on since."""
    here = _place(known, role, moment)
    if given is None:
        return here
    runs = [known.moves[id_] for id_ in known.cues.own[role] if id_ in known.moves]
    since = given.catch(given.in_turn)
    still = all(run.end <= since + 1e-9 or run.start > moment for run in runs)
    return given.target if still else here


def _ready(known: Known, look: Look, ball_in: float | None, caught: float | None) -> float:
    """When the passer can throw: with the ball in hand, or after catching it."""
    pace = known.paces[look.passer]
    if caught is not None:
        return caught + pace.handle
    if look.passer == (known.play.thrower or known.play.ball):
        return pace.signal + pace.release
    return (pace.signal if ball_in is None else ball_in) + pace.handle


def _place(known: Known, role: Role, moment: float) -> complex:
    here = next(complex(*start.at) for start in known.play.starts if start.role == role)
    for id_ in known.cues.own[role]:
        move = known.moves.get(id_)
        if move is not None and move.start <= moment:
            along = move.run.along(np.array([moment - move.start]))
            here = complex(move.run.path.at(along)[0])
    return here


def _receiving(
    known: Known, look: Look, target: complex, ignore: frozenset[str]
) -> tuple[float, float | None]:
    """(when the receiver is at the catch, when they leave it)."""
    span = known.spans[look.action]
    there = span.set if span.set is not None else span.arrive
    move = known.moves.get(look.action)
    leaves = _leaves(known, look, ignore)
    if move is None or look.at is None or span.role != look.receiver:
        return there, leaves
    path = move.run.path
    along, away = path.nearest(target)
    if path.length - along > NEAR_END and away < ASIDE:
        gone = move.start + move.run.when(min(along + PASSING, path.length))
        return move.start + move.run.when(along), gone
    legs = known.legs_of(known.legs[look.action].action)
    beyond = abs(target - path.end)
    more = float(moving_time(beyond, move.run.exit_speed, legs.top, legs.constant))
    return there + more, leaves


def _leaves(known: Known, look: Look, ignore: frozenset[str]) -> float | None:
    """When the receiver runs off to something else; not to what waits for this very pass."""
    if known.legs[look.action].action.role != look.receiver:
        return None
    later = known.cues.next[look.action]
    while later is not None:
        runs = later in known.spans and len(known.legs[later].points) > 1
        if runs and later not in ignore:
            return known.spans[later].start
        later = known.cues.next[later]
    return None
