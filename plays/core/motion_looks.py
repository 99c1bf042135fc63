"""When each look can be thrown: the release windows.

A look's earliest release is when the passer is ready and the receiver can be led to the
place of the catch. A weaker arm does not throw earlier to make up for a slower ball: the
lead is ``Pace.lead`` seconds for each metre, never more than the flight. The latest release is
the end of the count, or when the receiver runs off.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from plays.core.course import Leg, lane
from plays.core.motion_pace import Pace
from plays.core.motion_run import Legs
from plays.core.motion_sprint import moving_time
from plays.core.motion_throw import Throw, throw
from plays.core.motion_values import Flight, Move, Span, Window
from plays.core.play import Action, ActionKind, Look, Play, Role

COUNT = 5.0  # seconds to release a throw-in, in every rule set: FIBA 17.3.1, NFHS 7-6-2, NBA 8-III
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
    by_role: Mapping[Role, list[str]]
    spans: dict[str, Span] = field(default_factory=dict)
    moves: dict[str, Move] = field(default_factory=dict)
    flights: list[Flight] = field(default_factory=list)

    def following(self, id_: str) -> str | None:
        """What the same role does next."""
        mine = self.by_role[self.legs[id_].action.role]
        index = mine.index(id_) + 1
        return mine[index] if index < len(mine) else None

    def legs_of(self, action: Action) -> Legs:
        """How the role runs in this action."""
        pace = self.paces[action.role]
        share = pace.easy if action.easy else 1.0
        if action.kind is ActionKind.DRIBBLE:
            share *= pace.dribble
        return Legs(pace.game_speed * share, pace.time_constant, pace.braking, pace.turn_180)


def windows(known: Known, ball_in: float | None) -> tuple[Window, ...]:
    """The window of every look at an action that is timed, in the play's order."""
    turns: dict[Role, float] = {}
    timed = [look for look in known.play.looks if look.action in known.spans]
    return tuple(window(known, look, i, turns, ball_in) for i, look in enumerate(timed))


def first_window(known: Known) -> Window | None:
    """That of the first look, which is thrown when no throw-in is written down."""
    looks = known.play.looks
    if not looks or looks[0].action not in known.spans:
        return None
    return window(known, looks[0], 0, {}, None)


def window(
    known: Known, look: Look, index: int, turns: dict[Role, float], ball_in: float | None
) -> Window:
    """One window. ``turns`` holds from when each passer can turn to a look, and moves on."""
    pace = known.paces[look.passer]
    here, there = lane(known.play, look)
    origin, target = complex(*here), complex(*there)
    made = throw(look.pass_kind, abs(target - origin), pace, known.pace)
    arrival, leaves = _receiving(known, look, target)
    counted = look.passer == known.play.thrower
    ready = _ready(known, look, ball_in)
    earliest = max(ready, arrival - lead(pace, made))
    in_turn = max(earliest, turns.get(look.passer, 0.0))
    turns[look.passer] = in_turn + pace.glance
    limit = COUNT if counted else in_turn + PATIENCE
    if leaves is not None:
        limit = min(limit, max(leaves + GRACE - made.seconds, earliest))
    return Window(
        look=look,
        index=index,
        ready=ready,
        arrival=arrival,
        earliest=earliest,
        in_turn=in_turn,
        latest=limit,
        leaves=leaves,
        origin=origin,
        target=target,
        throw=made,
        counted=counted,
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


def lead(pace: Pace, made: Throw) -> float:
    """How long before the runner's arrival a pass is let go."""
    return min(made.seconds, pace.lead * made.length)


def _ready(known: Known, look: Look, ball_in: float | None) -> float:
    """When the passer can throw: with the ball in hand, or after catching it."""
    pace = known.paces[look.passer]
    with_ball = known.play.thrower or known.play.ball
    if look.passer == with_ball:
        return pace.signal + pace.release
    caught = [flight.catch for flight in known.flights if flight.receiver == look.passer]
    if caught:
        return min(caught) + pace.handle
    return (pace.signal if ball_in is None else ball_in) + pace.handle


def _receiving(known: Known, look: Look, target: complex) -> tuple[float, float | None]:
    """(when the receiver is at the catch, when they leave it)."""
    span = known.spans[look.action]
    there = span.set if span.set is not None else span.arrive
    move = known.moves.get(look.action)
    leaves = _leaves(known, look)
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


def _leaves(known: Known, look: Look) -> float | None:
    """When the receiver runs off to something else."""
    if known.legs[look.action].action.role != look.receiver:
        return None
    later = known.following(look.action)
    while later is not None:
        if later in known.spans and len(known.legs[later].points) > 1:
            return known.spans[later].start
        later = known.following(later)
    return None
