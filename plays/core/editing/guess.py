"""What a coach usually means: cues, styles and partners guessed from where things are drawn.

Every guess is common practice, no source, and is changed with one tap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import dist
from typing import Final

from plays.core.play import (
    Action,
    ActionKind,
    Cue,
    JointShape,
    Moment,
    Play,
    Point,
    Role,
    ScreenStyle,
)
from plays.core.sequence.circles import circles
from plays.core.sequence.course import Scene
from plays.core.sequence.cues import BALL_USERS, STANDING

MOVERS: Final = (ActionKind.CUT, ActionKind.DRIBBLE)


def cue_for(play: Play, phase: int, action: Action) -> tuple[Cue, ...]:
    """What a new action waits for; none where the signal or its own last action says it.

    A cutter waits for the screen that frees it, or for both that open together, a pass for the
    receiver's run, who was thrown the ball for the catch, the thrower for the ball to be in, and
    whoever else is new in a later phase for the end of the phase before.
    """
    here = play.phases[phase].actions
    done = [each for earlier in play.phases[:phase] for each in earlier.actions]
    caught = _caught(play, action)
    if action.kind in MOVERS:
        used = {
            cue.action for each in play.actions() for cue in each.cues if each.role == action.role
        }
        for screen in reversed(here):
            if screen.cutter == action.role and screen.id not in used and not closes(screen):
                return tuple(Cue(Moment.SET, each.id) for each in _together(here, screen))
    if action.kind is ActionKind.PASS:
        runs = _runs(here, action) or ([] if caught else _runs(done, action))
        if runs:
            return (*caught, Cue(Moment.END, runs[-1].id))
    if caught:
        return caught
    if phase and not any(each.role == action.role for each in play.actions()):
        if action.role == play.thrower and action.kind in MOVERS:
            return (Cue(Moment.BALL_IN),)
        before = [each for each in done if each.kind not in STANDING]
        if before:
            return (Cue(Moment.END, before[-1].id),)
    return ()


def _runs(among: Sequence[Action], thrown: Action) -> list[Action]:
    """Where whoever a pass goes to runs."""
    return [each for each in among if each.role == thrown.to and each.kind in MOVERS]


def _caught(play: Play, action: Action) -> tuple[Cue, ...]:
    """The throw that brings the ball to who uses it, if that is the last that concerns them."""
    if action.kind not in BALL_USERS:
        return ()
    last = [each for each in play.actions() if action.role in (each.role, each.to)][-1:]
    return tuple(Cue(Moment.END, each.id) for each in last if each.to == action.role)


def closes(action: Action) -> bool:
    """Whether a screen shuts a gate behind its cutter, and so frees nobody."""
    return action.joint is not None and action.joint.part == "close"


def _together(here: Sequence[Action], screen: Action) -> list[Action]:
    """The screens that have to stand at once; of one after the other the last."""
    if screen.joint is None or screen.joint.shape is JointShape.STAGGER:
        return [screen]
    return [each for each in here if each.joint == screen.joint]


def released_by(play: Play, phase: int, screen: Action) -> Play:
    """The play in which a cutter who was drawn first now waits for this screen, if nothing else."""
    actions = play.phases[phase].actions
    runs = [each for each in actions if each.role == screen.cutter and each.kind in MOVERS]
    if not runs or runs[-1].cues:
        return play
    waiting = replace(runs[-1], cues=(Cue(Moment.SET, screen.id),))
    swapped = tuple(waiting if each.id == waiting.id else each for each in actions)
    phases = (*play.phases[:phase], replace(play.phases[phase], actions=swapped))
    changed = replace(play, phases=phases + play.phases[phase + 1 :])
    return play if circles(changed) else changed


def style_of(scene: Scene, cutter: Role, way: tuple[Point, Point]) -> ScreenStyle:
    """The kind of screen by which way the screener goes, and by who has the ball."""
    if scene.holder == cutter:
        return ScreenStyle.BALL
    across, up = way[1].x - way[0].x, way[1].y - way[0].y
    if abs(across) > abs(up):
        return ScreenStyle.CROSS
    return ScreenStyle.DOWN if up < 0 else ScreenStyle.BACK


def nearest_role(places: dict[Role, Point], at: Point, not_role: Role) -> Role:
    """Who stands nearest to a place: for whom a screen there most likely is."""
    others = [role for role in places if role != not_role]
    return min(others, key=lambda role: (dist(places[role], at), role))
