"""Who stands where, and who has the ball, as a play goes from phase to phase.

This is the order of the document, not of the clock: an action happens after those written
before it. ``motion`` computes the times. Places are metres as in ``play``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from plays.core.play import Action, ActionKind, Counter, Look, Phase, Play, Point, Role

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
        """As a phase begins: in a rotation the first look has brought the ball in."""
        inbound = play.thrower is not None and not self.played
        if phase.rotation and play.looks and inbound:
            return Ball(play.looks[0].receiver, True)
        return self

    def after(self, action: Action) -> Ball:
        """When an action is done, whether or not its role had the ball."""
        if action.kind in BALL_MOVERS:
            return Ball(action.to if action.to is not None else action.role, True)
        if action.kind is ActionKind.SHOT:
            return Ball(None, True)
        return Ball(action.role, True) if action.kind is ActionKind.DRIBBLE else self


@dataclass(frozen=True, slots=True)
class Scene:
    """The floor at the beginning of a phase, and the legs run in it."""

    phase: Phase
    places: Mapping[Role, Point]
    holder: Role | None
    legs: tuple[Leg, ...]


def scenes(play: Play) -> tuple[Scene, ...]:
    """One scene for each phase. Raises KeyError where an action's role has no start."""
    places: dict[Role, Point] = {start.role: start.at for start in play.starts}
    ball = Ball(play.ball)
    made = []
    for phase in play.phases:
        ball = ball.entering(play, phase)
        before, held = dict(places), ball.holder
        legs = []
        for action in phase.actions:
            leg = _leg(action, phase.id, places)
            legs.append(leg)
            ball = ball.after(action)
            if action.kind not in BALL_MOVERS:
                places[action.role] = leg.end
        made.append(Scene(phase, before, held, tuple(legs)))
    return tuple(made)


def legs(play: Play) -> dict[str, Leg]:
    """Every leg of the play by the id of its action, in written order."""
    return {leg.action.id: leg for scene in scenes(play) for leg in scene.legs}


def final_places(play: Play) -> dict[Role, Point]:
    """Where everybody stands when the last action is done."""
    places = {start.role: start.at for start in play.starts}
    for _, after in _walked(play, scenes(play)):
        places = after
    return places


def lanes(play: Play, floor: Sequence[Scene]) -> Mapping[str, tuple[LookLane, ...]]:
    """The looks by the phase in which they come; a look at no action of the play is left out.

    No clock: a look is where the document says it is, not where a check finds it open.
    """
    found: dict[str, list[LookLane]] = {scene.phase.id: [] for scene in floor}
    for leg, places in _walked(play, floor):
        for order, look in enumerate(play.looks, start=1):
            if look.action == leg.action.id:
                end = look.at or places[look.receiver]
                found[leg.phase].append(LookLane(look, order, places[look.passer], end))
    return {phase: tuple(sorted(here, key=lambda one: one.order)) for phase, here in found.items()}


def lane(play: Play, look: Look) -> tuple[Point, Point]:
    """From the passer's place to the catch, both as of the end of the look's action.

    Raises KeyError for a look at an action that does not exist.
    """
    for leg, places in _walked(play, scenes(play)):
        if leg.action.id == look.action:
            return places[look.passer], look.at or places[look.receiver]
    raise KeyError(look.action)


def _walked(play: Play, floor: Sequence[Scene]) -> Iterator[tuple[Leg, dict[Role, Point]]]:
    """Every leg as written, and where everybody stands when it is done."""
    places = {start.role: start.at for start in play.starts}
    for scene in floor:
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

    A rotation is written as if the first look had been thrown. Phases where nobody does anything
    with the ball are left out, and all of them where every look from the throw-in goes to one.
    """
    first = play.looks[0].receiver if play.looks else None
    into = [(n, look) for n, look in enumerate(play.looks, 1) if look.passer == play.thrower]
    to_first = tuple(n for n, look in into if look.receiver == first)
    if len(to_first) == len(into):
        return {}
    found, ball, assumed = {}, Ball(play.ball), False
    for phase in play.phases:
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
