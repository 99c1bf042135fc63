"""Who stands where, and who has the ball, as a play goes from phase to phase.

This is the order of the document, not of the clock: an action happens after those written
before it. ``motion`` computes the times. Places are metres as in ``play``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from plays.core.play import Action, ActionKind, Counter, Look, Phase, Play, Point, Role

BALL_MOVERS = (ActionKind.PASS, ActionKind.HANDOFF)


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
class Scene:
    """The floor at the beginning of a phase, and the legs run in it."""

    phase: Phase
    places: Mapping[Role, Point]
    holder: Role | None
    legs: tuple[Leg, ...]


def scenes(play: Play) -> tuple[Scene, ...]:
    """One scene for each phase. Raises KeyError where an action's role has no start."""
    places: dict[Role, Point] = {start.role: start.at for start in play.starts}
    holder: Role | None = play.ball
    thrown = False
    made = []
    for phase in play.phases:
        if phase.rotation and play.looks and not thrown and holder is not None:
            holder = play.looks[0].receiver if holder == play.thrower else holder
        before, held = dict(places), holder
        legs = []
        for action in phase.actions:
            leg = _leg(action, phase.id, places)
            legs.append(leg)
            if action.kind in BALL_MOVERS:
                holder, thrown = action.to, True
            else:
                places[action.role] = leg.end
                if action.kind is ActionKind.SHOT:
                    holder = None
        made.append(Scene(phase, before, held, tuple(legs)))
    return tuple(made)


def legs(play: Play) -> dict[str, Leg]:
    """Every leg of the play by the id of its action, in written order."""
    return {leg.action.id: leg for scene in scenes(play) for leg in scene.legs}


def final_places(play: Play) -> dict[Role, Point]:
    """Where everybody stands when the last action is done."""
    places = {start.role: start.at for start in play.starts}
    for leg in legs(play).values():
        if leg.action.kind not in BALL_MOVERS:
            places[leg.action.role] = leg.end
    return places


def lane(play: Play, look: Look) -> tuple[Point, Point]:
    """From the passer's place to the catch, both as of the end of the look's action.

    Raises KeyError for a look at an action that does not exist.
    """
    places = {start.role: start.at for start in play.starts}
    for leg in legs(play).values():
        if leg.action.kind not in BALL_MOVERS:
            places[leg.action.role] = leg.end
        if leg.action.id == look.action:
            return places[look.passer], look.at or places[look.receiver]
    raise KeyError(look.action)


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
    if counter.looks:
        changed = replace(changed, looks=_looks_before(play, first, counter) + counter.looks)
    return changed


def _looks_before(play: Play, first: int, counter: Counter) -> tuple[Look, ...]:
    """The looks that stay; one that the counter lists again has its place there, not here."""
    earlier = {action.id for phase in play.phases[:first] for action in phase.actions}
    again = {look.id for look in counter.looks}
    return tuple(look for look in play.looks if look.action in earlier and look.id not in again)


def _leg(action: Action, phase: str, places: Mapping[Role, Point]) -> Leg:
    here = places[action.role]
    if action.kind in BALL_MOVERS:
        there = places[action.to] if action.to is not None else here
        return Leg(action, phase, (here, there))
    return Leg(action, phase, (here, *action.path))
