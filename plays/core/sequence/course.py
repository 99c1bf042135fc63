"""Who stands where, and who has the ball, as a play goes from phase to phase.

This is the order of the document, not of the clock: an action happens after those written
before it. ``motion`` computes the times. Places are metres as in ``play``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from plays.core.play import Action, ActionKind, Counter, Look, Phase, Play, Point, Role
from plays.core.sequence.after_look import bringing_in, entry, first_way, named

BALL_MOVERS = (ActionKind.PASS, ActionKind.HANDOFF)
WITH_BALL = (*BALL_MOVERS, ActionKind.SHOT, ActionKind.DRIBBLE)


@dataclass(frozen=True, slots=True)
class Leg:
    """An action put on the floor: ``points`` begin where the role stands.

    A pass or hand-off has two points, from the passer to where the receiver stands by then.
    """

    action: Action
    phase: str
    points: tuple[Point, ...]

    @property
    def start(self) -> Point:
        return self.points[0]

    @property
    def end(self) -> Point:
        return self.points[-1]


@dataclass(frozen=True, slots=True)
class LookLane:
    """A look on the floor: its place among the play's looks, from 1, and the pass from where to
    where, both as of the end of the look's action.
    """

    look: Look
    order: int
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Ball:
    """Who has the ball, None after a shot, and whether anybody has played it yet."""

    holder: Role | None
    played: bool = False

    def entering(self, play: Play, phase: Phase) -> Ball:
        """As a phase begins: in a rotation the look that it is written for has brought the ball
        in."""
        inbound = play.thrower is not None and not self.played
        look = entry(play, phase) if phase.rotation and inbound else None
        return self if look is None else Ball(look.receiver, True)

    def after(self, action: Action) -> Ball:
        """When an action is done, whether or not its role had the ball."""
        if action.kind in BALL_MOVERS:
            return Ball(action.to if action.to is not None else action.role, True)
        if action.kind is ActionKind.SHOT:
            return Ball(None, True)
        return Ball(action.role, True) if action.kind is ActionKind.DRIBBLE else self


_State = tuple[Mapping[Role, Point], Ball]


@dataclass(frozen=True, slots=True)
class Scene:
    """The floor at the beginning of a phase, and the legs run in it."""

    phase: Phase
    places: Mapping[Role, Point]
    holder: Role | None
    legs: tuple[Leg, ...]

    def at_the_end(self) -> tuple[dict[Role, Point], Role | None]:
        """Where everybody stands, and who has the ball, when the phase is done."""
        places, ball = dict(self.places), Ball(self.holder)
        for leg in self.legs:
            ball = ball.after(leg.action)
            if leg.action.kind not in BALL_MOVERS:
                places[leg.action.role] = leg.end
        return places, ball.holder


def scenes(play: Play) -> tuple[Scene, ...]:
    """One scene for each phase, in written order. Raises KeyError where an action's role has no
    start.

    A phase that is kept for some looks begins where what is run after all of them has ended.
    """
    state: _State = ({start.role: start.at for start in play.starts}, Ball(play.ball))
    common, by_look, made = state, dict[str, _State](), []
    for phase in play.phases:
        begin = by_look.get(phase.after[0], common) if phase.after else state
        scene, end = _scene(play, phase, begin)
        made.append(scene)
        by_look |= dict.fromkeys(phase.after, end)
        if not phase.after:
            state = end
            common = common if phase.rotation else end
    return tuple(made)


def _scene(play: Play, phase: Phase, begin: _State) -> tuple[Scene, _State]:
    places, ball = dict(begin[0]), begin[1].entering(play, phase)
    held, legs = ball.holder, []
    for action in phase.actions:
        leg = _leg(action, phase.id, places)
        legs.append(leg)
        ball = ball.after(action)
        if action.kind not in BALL_MOVERS:
            places[action.role] = leg.end
    return Scene(phase, begin[0], held, tuple(legs)), (places, ball)


def legs(play: Play) -> dict[str, Leg]:
    """Every leg of the play by the id of its action, in written order."""
    return {leg.action.id: leg for scene in scenes(play) for leg in scene.legs}


def final_places(play: Play) -> dict[Role, Point]:
    """Where everybody stands when the last action of the play's first way is done."""
    play = first_way(play)
    places = {start.role: start.at for start in play.starts}
    for _, after in _walked(scenes(play)):
        places = after
    return places


def lanes(play: Play, floor: Sequence[Scene]) -> Mapping[str, tuple[LookLane, ...]]:
    """The looks by the phase in which they come; a look at no action of the play is left out.

    No clock: a look is where the document says it is, not where a check finds it open.
    """
    found: dict[str, list[LookLane]] = {scene.phase.id: [] for scene in floor}
    for leg, places in _walked(floor):
        for order, look in enumerate(play.looks, start=1):
            if look.action == leg.action.id:
                end = look.at or places[look.receiver]
                found[leg.phase].append(LookLane(look, order, places[look.passer], end))
    return {phase: tuple(sorted(here, key=lambda one: one.order)) for phase, here in found.items()}


def lane(play: Play, look: Look) -> tuple[Point, Point]:
    """From the passer's place to the catch, both as of the end of the look's action.

    Raises KeyError for a look at an action that does not exist.
    """
    for leg, places in _walked(scenes(play)):
        if leg.action.id == look.action:
            return places[look.passer], look.at or places[look.receiver]
    raise KeyError(look.action)


def _walked(floor: Sequence[Scene]) -> Iterator[tuple[Leg, dict[Role, Point]]]:
    """Every leg as written, and where everybody stands when it is done."""
    for scene in floor:
        places = dict(scene.places)
        for leg in scene.legs:
            if leg.action.kind not in BALL_MOVERS:
                places[leg.action.role] = leg.end
            yield leg, places


def with_counter(play: Play, counter: Counter) -> Play:
    """The play as it is run when the defence does what the counter answers.

    Its looks are those at actions of earlier phases, in the play's order, then the counter's
    own in theirs; an earlier look that the counter lists again stands among the counter's
    only. A counter without looks changes none. Raises ValueError for an unknown phase.
    """
    first = [phase.id for phase in play.phases].index(counter.from_phase)
    swaps = {action.id: action for action in counter.replace}
    phases = []
    for index, phase in enumerate(play.phases):
        kept = tuple(
            swaps.get(action.id, action)
            for action in phase.actions
            if index < first or action.id not in counter.remove
        )
        phases.append(replace(phase, actions=kept + (counter.add if index == first else ())))
    changed = replace(play, phases=tuple(phases), counters=())
    return replace(changed, looks=looks_with(play, counter))


def assumed_looks(play: Play) -> dict[str, tuple[int, ...]]:
    """By phase the numbers of the looks after which what is written with the ball there is done.

    A rotation is written as if the first look had been thrown, of those that no other phase is
    kept for. Phases where nobody does anything with the ball are left out, and all of them where
    every one of these looks goes to one.
    """
    taken, number = named(play), {look.id: n for n, look in enumerate(play.looks, 1)}
    into = [look for look in bringing_in(play) if look.id not in taken]
    first = (into if taken and into else play.looks)[0].receiver if play.looks else None
    to_first = tuple(number[look.id] for look in into if look.receiver == first)
    if len(to_first) == len(into):
        return {}
    found, ball, assumed = {}, Ball(play.ball), False
    for phase in (each for each in play.phases if not each.after):
        entered = ball.entering(play, phase)
        assumed, ball = assumed or entered is not ball, entered
        if assumed and any(action.kind in WITH_BALL for action in phase.actions):
            found[phase.id] = to_first
        for action in phase.actions:
            ball = ball.after(action)
    return found


def run_of(play: Play, counter: Counter | None) -> Play:
    """The play, or the play as it is run with a counter."""
    return play if counter is None else with_counter(play, counter)


def looks_with(play: Play, counter: Counter) -> tuple[Look, ...]:
    """The looks in the order in which they are read when the counter is run."""
    return looks_before(play, counter) + counter.looks if counter.looks else play.looks


def looks_before(play: Play, counter: Counter) -> tuple[Look, ...]:
    """The looks that stay before a counter's own; one that it lists again has its place there."""
    first = [phase.id for phase in play.phases].index(counter.from_phase)
    earlier = {action.id for phase in play.phases[:first] for action in phase.actions}
    again = {look.id for look in counter.looks}
    return tuple(look for look in play.looks if look.action in earlier and look.id not in again)


def _leg(action: Action, phase: str, places: Mapping[Role, Point]) -> Leg:
    here = places[action.role]
    if action.kind in BALL_MOVERS:
        there = places[action.to] if action.to is not None else here
        return Leg(action, phase, (here, there))
    return Leg(action, phase, (here, *action.path))
