"""Which passes may be made, in order: each receiving cut becomes a look of its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import dist
from typing import Final

from plays.core.editing.phases import loosened
from plays.core.editing.refused import GONE, RefusedError
from plays.core.motion.pace import pace_of
from plays.core.play import Action, ActionKind, Cut, Look, Play, Point, Role
from plays.core.sequence.course import Scene, scenes

FAR: Final = 1.25
"""So many times the longest planned pass is not meant for the ball: ours."""

NOT_FOR_THE_BALL = (Cut.CLEAR_OUT,)


def receiving(play: Play) -> tuple[Action, ...]:
    """The cuts at whose end a pass may come, in written order."""
    return tuple(each for each in play.actions() if may_receive(each) and _passer(play, each))


def may_receive(action: Action) -> bool:
    idle = action.easy or action.decoy or action.cut in NOT_FOR_THE_BALL
    return action.kind is ActionKind.CUT and bool(action.path) and not idle


def with_look(
    play: Play, action: Action, passer: Role | None, places: Mapping[Role, Point]
) -> Play:
    """The play in which this new action is the last look, if a pass may come then.

    ``places`` is where everybody stands before it. Whoever runs much farther away than the age
    group plans passes makes room; a tap makes a look of that, too.
    """
    if passer is None or passer == action.role or not may_receive(action):
        return play
    if _far(play, places[passer], action):
        return play
    return replace(play, looks=(*play.looks, _look(play, action, passer)))


def thrown_at(play: Play, thrown: Action) -> Play:
    """The play in which the cut that a throw comes to is a look, the last one where it was none."""
    cuts = [each for each in play.actions() if each.role == thrown.to and may_receive(each)]
    if not cuts or cuts[-1].id in {look.action for look in play.looks}:
        return play
    return replace(play, looks=(*play.looks, _look(play, cuts[-1], thrown.role)))


def makes_room(play: Play, action: Action) -> bool:
    """Whether a cut for the ball ends too far from who has it when its phase begins."""
    scene = _scene_of(play, action) if may_receive(action) else None
    if scene is None or scene.holder in (None, action.role):
        return False
    return _far(play, scene.places[scene.holder], action)


def _far(play: Play, at: Point, action: Action) -> bool:
    return dist(at, action.path[-1]) > FAR * pace_of(play.level).longest_pass


def ordered(play: Play, actions: tuple[str, ...]) -> Play:
    """The play whose looks are at these actions, in this order. Raises RefusedError."""
    known: dict[str, list[Look]] = {}
    for look in play.looks:
        known.setdefault(look.action, []).append(look)
    by_id = {each.id: each for each in play.actions()}
    made: list[Look] = []
    for id_ in dict.fromkeys(actions):
        action = by_id.get(id_)
        if action is None:
            raise RefusedError(GONE)
        passer = _passer(play, action)
        if id_ in known:
            made += known[id_]
        elif passer is not None:
            made.append(_look(replace(play, looks=(*play.looks, *made)), action, passer))
    return loosened(replace(play, looks=tuple(made)))


def _passer(play: Play, action: Action) -> Role | None:
    """Who has the ball in the phase of an action, when it is somebody else."""
    scene = _scene_of(play, action)
    return None if scene is None or scene.holder == action.role else scene.holder


def _scene_of(play: Play, action: Action) -> Scene | None:
    holds = (s for s in scenes(play) if any(leg.action.id == action.id for leg in s.legs))
    return next(holds, None)


def _look(play: Play, action: Action, passer: Role) -> Look:
    taken = {look.id for look in play.looks}
    taken |= {look.id for counter in play.counters for look in counter.looks}
    name, number = f"look-{action.role}", 2
    while name in taken:
        name, number = f"look-{action.role}-{number}", number + 1
    return Look(name, passer, action.role, action.id)
