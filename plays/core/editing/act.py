"""One more action at the end of a phase, with what a coach usually means by it."""

from __future__ import annotations

from dataclasses import replace

from plays.core.editing.commands import Act
from plays.core.editing.guess import cue_for, nearest_role, released_by, style_of
from plays.core.editing.looks import with_look
from plays.core.editing.phases import free_id, with_actions
from plays.core.editing.refused import NO_BALL, NO_PLACE, NOBODY, RefusedError
from plays.core.play import Action, ActionKind, Cut, PassKind, Play, Point, Role
from plays.core.sequence.circles import circles
from plays.core.sequence.course import BALL_MOVERS, Scene, scenes
from plays.core.sequence.cues import BALL_USERS

NEEDS_PLACE = (ActionKind.CUT, ActionKind.DRIBBLE)


def acted(play: Play, command: Act) -> Play:
    """The play with the action at the end of its phase. Raises RefusedError."""
    index = [phase.id for phase in play.phases].index(command.phase)
    scene = scenes(play)[index]
    places, holder = scene.at_the_end()
    if command.kind in BALL_USERS and holder != command.role:
        raise RefusedError(NO_BALL, command.role)
    if command.kind in NEEDS_PLACE and command.at is None:
        raise RefusedError(NO_PLACE)
    action = _action(play, command, places, scene)
    cued = replace(action, cues=cue_for(play, index, action))
    made = with_actions(play, index, cued)
    if cued.cues and circles(made):
        made = with_actions(play, index, action)
    if action.kind is ActionKind.SCREEN:
        made = released_by(made, index, action)
    return with_look(made, action, holder, places)


def _action(play: Play, command: Act, places: dict[Role, Point], scene: Scene) -> Action:
    role, kind, here = command.role, command.kind, places[command.role]
    moves = kind not in BALL_MOVERS and command.at is not None and command.at != here
    path = (command.at,) if moves and command.at is not None else ()
    made = Action(free_id(play, role, kind), role, kind, path)
    if kind is ActionKind.CUT:
        return replace(made, cut=command.cut or Cut.STRAIGHT)
    if kind not in (ActionKind.SCREEN, *BALL_MOVERS):
        return made
    other = command.other or nearest_role(places, command.at or here, role)
    if other == role:
        raise RefusedError(NOBODY, role)
    if kind is ActionKind.SCREEN:
        style = style_of(scene, other, (here, path[-1] if path else places[other]))
        return replace(made, cutter=other, screen=style)
    pass_kind = (command.pass_kind or PassKind.DIRECT) if kind is ActionKind.PASS else None
    return replace(made, to=other, pass_kind=pass_kind)
