"""When everything in a play happens: the timeline.

Time zero is when the ball is at the thrower's disposal; the signal comes ``Pace.signal``
later. An action starts when what it waits for (``cues``) has happened: a player reacts
after the signal and after a team-mate's cue, not after their own last action, and adds the
written wait. Then they run by ``motion_run``. Nothing here depends on a sampling step: every
moment has a closed form. Metres and seconds; places are complex numbers, x + iy.

A role that does one movement straight after another runs on without stopping. A screener
stops, and is set ``Pace.settle`` after arriving. A pass leaves the hand no earlier than a
runner can be led to the place of the catch.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from plays.core.motion.pace import Pace
from plays.core.motion.path import Route, path_through, turn_into
from plays.core.motion.run import plant, run
from plays.core.motion.throw import throw
from plays.core.motion.timeline import SHOT, Flight, Move, Span, Timeline, Track, Window
from plays.core.motion.windows import COUNT, Known, bringing_window, lead, look_flight, on_the_run
from plays.core.motion.windows import windows as windows_of
from plays.core.play import (
    ROLES,
    Action,
    ActionKind,
    CueRule,
    Moment,
    PassKind,
    Play,
    Role,
)
from plays.core.sequence.after_look import entry_of, first_way
from plays.core.sequence.course import BALL_MOVERS, Leg, legs
from plays.core.sequence.cues import STANDING, CueGraph, Link, Waits, Why

HAND_OVER = 0.2  # seconds in which a ball changes hands; ours
CLEAR = 0.9  # metres run after which a place is free for somebody else, a long step; ours
AFTER = 0.5  # seconds that a timeline goes on after the last moment
RUNNING = (ActionKind.CUT, ActionKind.DRIBBLE)


def timeline(
    play: Play,
    pace: Pace,
    paces: Mapping[Role, Pace] | None = None,
    *,
    caught: float | None = None,
) -> Timeline:
    """The play at this pace; ``paces`` overrules it for single roles. ``caught`` says when the
    throw-in is caught, where none is written and another look than the first brings the ball in.
    Of a play that runs in several ways it is the first way, which is the timeline's ``play``.

    Raises CueCycleError when actions wait for one another, KeyError for a role without a start.
    """
    of_roles = {role: (paces or {}).get(role, pace) for role in ROLES}
    return _Clock(first_way(play), pace, of_roles, caught).read()


class _Clock:
    """Works the actions off in the order in which their times become known."""

    def __init__(
        self, play: Play, pace: Pace, paces: Mapping[Role, Pace], caught: float | None
    ) -> None:
        on_floor = legs(play)
        self.caught = caught
        self.play, self.pace, self.paces, self.legs = play, pace, paces, on_floor
        self.cues = CueGraph(play)
        self.waits, self.throw_in = self.cues.waits, self.cues.throw_in
        self.known = Known(play, pace, paces, on_floor, self.cues, after_in=self._after_in())
        self.exits: dict[str, tuple[float, Route]] = {}

    def read(self) -> Timeline:
        for id_ in self._order():
            self._time(self.legs[id_])
        ball_in = None if self.play.thrower is None else self._ball_in()
        seen = windows_of(self.known, ball_in)
        flights = self._flights(seen)
        spans = self.known.spans
        ends = [span.end for span in spans.values()] + [flight.catch for flight in flights]
        least = self.pace.signal if self.play.thrower is None else COUNT
        return Timeline(
            play=self.play,
            pace=self.pace,
            paces=self.paces,
            signal=self.pace.signal,
            spans={id_: spans[id_] for id_ in self.legs},
            tracks=self._tracks(),
            flights=flights,
            windows=seen,
            ball_in=ball_in,
            after_in=self.known.after_in,
            end=max([least, *ends]) + AFTER,
        )

    def _after_in(self) -> frozenset[str]:
        """The actions that wait, directly or not, for the throw-in to be caught."""
        brings_in = self.throw_in.id if self.throw_in is not None else None
        found: set[str] = set()

        def waits_for_it(link: Link) -> bool:
            ends = link.moment is Moment.END and link.action == brings_in is not None
            return link.moment is Moment.BALL_IN or ends or link.action in found

        while True:
            left = ((i, waits) for i, waits in self.waits.items() if i not in found)
            more = [i for i, waits in left if any(map(waits_for_it, waits.links))]
            if not more:
                return frozenset(found)
            found.update(more)

    def _order(self) -> list[str]:
        """As ``CueGraph.order``, but a pass also comes after its receiver's last move."""
        left = list(self.cues.order())
        needs = {id_: set(found) for id_, found in self.cues.before.items()}
        for id_, leg in self.legs.items():
            catching = self.cues.catching(leg.action) if leg.action.kind in BALL_MOVERS else None
            if catching is not None:
                needs[id_].add(catching)
        done: list[str] = []
        while left:
            ready = next((id_ for id_ in left if needs[id_].issubset(done)), left[0])
            done.append(ready)
            left.remove(ready)
        return done

    def _start(self, waits: Waits, role: Role) -> float:
        due = [self._due(link, role) for link in waits.cues]
        chosen = (min if waits.rule is CueRule.FIRST else max)(due, default=0.0)
        return max([chosen, *(self._due(link, role) for link in waits.implied)])

    def _due(self, link: Link, role: Role) -> float:
        """When a role acts on a link: the moment, its reaction or hold, and the written wait."""
        return self._moment(link, role) + self._reaction(link, role) + link.wait

    def _reaction(self, link: Link, role: Role) -> float:
        pace = self.paces[role]
        if link.why is Why.SHOULDER:
            return pace.hold
        if link.why in (Why.OWN, Why.BALL):
            return 0.0
        if link.moment is Moment.SIGNAL:
            return 0.0 if role == self.play.thrower else pace.reaction
        mine = link.action is not None and self.legs[link.action].action.role == role
        return 0.0 if mine else pace.read

    def _moment(self, link: Link, role: Role) -> float:
        if link.moment is Moment.BALL_IN:
            return self._ball_in()
        span = self.known.spans.get(link.action or "")
        if link.moment is Moment.SIGNAL or span is None:
            return self.pace.signal
        if link.moment in (Moment.PASSES, Moment.HAS_LEFT):
            return self._passes(link, span, role)
        if link.moment is Moment.START:
            return span.start if link.why is not Why.OWN else span.arrive
        if link.moment is Moment.SET and span.set is not None:
            return span.set
        return span.arrive if link.moment is Moment.SET else self._ended(span)

    def _ended(self, span: Span) -> float:
        """Of a screen or hold: when the role goes on to something else."""
        if span.kind not in STANDING:
            return span.end
        later = self.known.spans.get(self.cues.next[span.action] or "")
        return span.end if later is None else later.start

    def _passes(self, link: Link, span: Span, role: Role) -> float:
        move = self.known.moves.get(span.action)
        if move is None:
            return span.end
        path = move.run.path
        if link.moment is Moment.HAS_LEFT:
            mark = min(CLEAR, path.length)
        elif link.point is not None:
            mark = path.marks[min(link.point + 1, len(path.marks) - 1)]
        else:
            mark = path.nearest(self._standing(role, span.role))[0]
        return move.start + move.run.when(mark)

    def _standing(self, role: Role, cutter: Role) -> complex:
        """Where the role stands in its latest screen, of those for the cutter if there are any."""
        done = [id_ for id_ in self.cues.own[role] if id_ in self.known.spans]
        screens = [self.legs[id_] for id_ in done]
        screens = [leg for leg in screens if leg.action.kind is ActionKind.SCREEN]
        ours = [leg for leg in screens if leg.action.cutter == cutter] or screens
        return complex(*ours[-1].end)

    def _time(self, leg: Leg) -> None:
        action = leg.action
        start = self._start(self.waits[action.id], action.role)
        if action.kind in BALL_MOVERS:
            self.known.spans[action.id] = self._ball(leg, start)
            return
        path = path_through(leg.points)
        speed, lost = self._brought_along(action, path)
        finish = self._finish(action, path)
        made = run(path, self.known.legs_of(action), speed=speed, finish=finish)
        self.known.moves[action.id] = Move(action.id, start + lost, made)
        self.exits[action.id] = (made.exit_speed, path)
        self.known.spans[action.id] = self._span(action, start, start + lost + made.seconds)

    def _span(self, action: Action, start: float, arrive: float) -> Span:
        plain = Span(action.id, action.role, action.kind, start, arrive, arrive)
        if action.kind is ActionKind.SCREEN:
            still = arrive + self.paces[action.role].settle
            return replace(plain, set=still, end=still)
        if action.kind is ActionKind.SHOT:
            return replace(plain, release=arrive + SHOT, end=arrive + SHOT)
        return plain

    def _finish(self, action: Action, path: Route) -> float | None:
        """The speed to arrive with; None for a role that runs straight on to something else."""
        following = self.cues.next[action.id]
        if following is not None and path.length > 0.0 and self._joined(action, following):
            return None
        if on_the_run(action):
            return self.paces[action.role].arrive_speed
        return 0.0

    def _joined(self, action: Action, following: str) -> bool:
        there, waits = self.legs[following], self.waits[following]
        return (
            action.kind in RUNNING
            and there.action.kind in (*RUNNING, ActionKind.SCREEN)
            and len(there.points) > 1
            and not waits.cues
            and all(link.why is Why.OWN for link in waits.implied)
        )

    def _brought_along(self, action: Action, path: Route) -> tuple[float, float]:
        """(speed brought from the movement before, seconds of planting)."""
        before = self.cues.previous[action.id]
        if before is None or before.id not in self.exits or not self._joined(before, action.id):
            return 0.0, 0.0
        speed, came = self.exits[before.id]
        lost, kept = plant(self.known.legs_of(action), speed, turn_into(came, path))
        return kept, lost

    def _ball(self, leg: Leg, start: float) -> Span:
        action, pace = leg.action, self.paces[leg.action.role]
        plain = Span(action.id, action.role, action.kind, start, start, start)
        if action.to is None:
            return plain
        origin, target = complex(*leg.start), complex(*leg.end)
        catching = self.known.spans.get(self.cues.catching(leg.action) or "")
        there = 0.0 if catching is None else catching.arrive
        kind = action.pass_kind or PassKind.DIRECT
        if action.kind is ActionKind.HANDOFF:
            made = throw(PassKind.DIRECT, 0.0, pace, self.pace)
            release = max(start, there)
            catch = release + HAND_OVER
        else:
            made = throw(kind, abs(target - origin), pace, self.pace)
            release = max(start + self._wind_up(action, pace), there - lead(pace, made))
            catch = max(release + made.seconds, there)
        ball = Flight(action.id, action.role, action.to, origin, target, release, catch, made)
        self.known.flights.append(ball)
        return replace(plain, arrive=release, end=catch, release=release)

    def _wind_up(self, action: Action, pace: Pace) -> float:
        """Longer straight after a catch than with the ball in both hands."""
        fresh = any(link.why is Why.BALL for link in self.waits[action.id].implied)
        return pace.handle if fresh else pace.release

    def _ball_in(self) -> float:
        """When the throw-in is caught; without one written, when that look would be."""
        if self.throw_in is not None and self.throw_in.id in self.known.spans:
            return self.known.spans[self.throw_in.id].end
        if self.caught is not None:
            return self.caught
        if (brings := bringing_window(self.known)) is not None:
            return brings.catch(brings.in_turn)
        return max([self.pace.signal, *(span.end for span in self.known.spans.values())])

    def _flights(self, seen: tuple[Window, ...]) -> tuple[Flight, ...]:
        """The written passes; without a written throw-in, the look that brings the ball in."""
        found = list(self.known.flights)
        if self.throw_in is None:
            brings = entry_of(self.play)
            first = (each for each in seen if each.look is brings and each.counted)
            found += [look_flight(each, each.in_turn) for each in first]
        return tuple(sorted(found, key=lambda flight: flight.release))

    def _tracks(self) -> dict[Role, Track]:
        starts = {start.role: start.at for start in self.play.starts}
        moves = self.known.moves
        return {
            role: Track(complex(*starts[role]), tuple(moves[i] for i in ids if i in moves))
            for role, ids in self.cues.own.items()
        }
