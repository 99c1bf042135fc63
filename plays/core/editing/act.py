"""One more action at the end of a phase, with what a coach usually means by it."""

from __future__ import annotations

from dataclasses import replace

from plays.core.editing.commands import Act
from plays.core.editing.guess import cue_for, nearest_role, released_by, style_of
from plays.core.editing.looks import with_look
from plays.core.editing.refused import NO_BALL, NO_PLACE, NOBODY, RefusedError
from plays.core.play import Action, ActionKind, Cut, PassKind, Play, Point, Role
from plays.core.sequence.course import BALL_MOVERS, Scene, scenes
from plays.core.sequence.cues import BALL_USERS, CueGraph
from plays.core.shorthand.naming import Reference, action_id

NEEDS_PLACE = (ActionKind.CUT, ActionKind.DRIBBLE)


def acted(play: Play, command: Act) -> Play:
    """The play with the action at the end of its phase. Raises RefusedError."""
    index = [phase.id for phase in play.phases].index(command.phase)
    scene = scenes(play)[index]
    places, holder = _at_the_end(scene)
    if command.kind in BALL_USERS and holder != command.role:
        raise RefusedError(NO_BALL, command.role)
    if command.kind in NEEDS_PLACE and command.at is None:
        raise RefusedError(NO_PLACE)
    action = _action(play, command, places, scene)
    cued = replace(action, cues=cue_for(play, index, action))
    made = _appended(play, index, cued)
    if cued.cues and CueGraph(made).cycles():
        made = _appended(play, index, action)
    if action.kind is ActionKind.SCREEN:
        made = released_by(made, index, action)
    return with_look(made, action, holder)


def _action(play: Play, command: Act, places: dict[Role, Point], scene: Scene) -> Action:
    role, kind, here = command.role, command.kind, places[command.role]
    moves = kind not in BALL_MOVERS and command.at is not None and command.at != here
    path = (command.at,) if moves and command.at is not None else ()
    made = Action(_free_id(play, role, kind), role, kind, path)
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


def _at_the_end(scene: Scene) -> tuple[dict[Role, Point], Role | None]:
    """Where everybody stands, and who has the ball, when the phase is done."""
    places, holder = dict(scene.places), scene.holder
    for leg in scene.legs:
        if leg.action.kind in BALL_MOVERS:
            holder = leg.action.to
        else:
            places[leg.action.role] = leg.end
            holder = None if leg.action.kind is ActionKind.SHOT else holder
    return places, holder


def _free_id(play: Play, role: Role, kind: ActionKind) -> str:
    """The id that the shorthand would give, told apart from all that are in the play."""
    taken = {each.id for each in play.actions()}
    taken |= {each.id for counter in play.counters for each in counter.add}
    number = 1
    while (name := action_id(Reference(role, kind, number))) in taken:
        number += 1
    return name


def _appended(play: Play, index: int, action: Action) -> Play:
    phase = play.phases[index]
    longer = replace(phase, actions=(*phase.actions, action))
    return replace(play, phases=(*play.phases[:index], longer, *play.phases[index + 1 :]))
