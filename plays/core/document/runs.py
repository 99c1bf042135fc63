"""Checks of a play as it runs: cues that come true, one ball, looks at people who are there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Final

from plays.core.document.walk import Fault, Place, Run, WrittenLine
from plays.core.play import Action, ActionKind, Cue, Look, Moment, Role
from plays.core.sequence.course import BALL_MOVERS, Ball
from plays.core.sequence.cues import BALL_USERS, CueGraph
from shared.core.language import N_, Slot

NO_NAME: Final = N_("“{id}” waits for another action, but does not say for which.")
NEVER: Final = N_("“{id}” waits for “{other}”, and there is no such action in this play.")
REMOVED: Final = N_("“{id}” waits for “{other}”, which this counter takes away.")
NO_SCREEN: Final = N_("“{id}” waits until “{other}” is set, but that is not a screen.")
NO_POINT: Final = N_("“{id}” waits for a point on the way of “{other}”, but does not say which.")
POINT_OUT: Final = N_("“{id}” waits for point {n} on the way of “{other}”, which has only {count}.")
STAYS: Final = N_("“{id}” waits until the {role} has left, but “{other}” is done on the spot.")
NO_WAY: Final = N_("“{id}” waits for a point on the way of “{other}”, which has no path.")
HELD_ON: Final = N_("“{id}” waits for the end of “{other}”, but the {role} holds that to the end.")
NO_THROW: Final = N_("“{id}” waits for the ball to come in, but nobody throws it in.")
CYCLE: Final = N_("These wait for one another, so none of them can begin: {ids}.")
SELF: Final = N_("“{id}” waits for itself.")
NO_BALL: Final = N_("In “{id}” the {role} gives the ball away, but the {holder} has it by then.")
LOST_BALL: Final = N_("In “{id}” the {role} gives the ball away, but it has been shot by then.")
TWO_BALLS: Final = N_("In “{id}” the {role} has the ball, but so has the {holder}.")
SHOT_BALL: Final = N_("In “{id}” the {role} has the ball, but it has been shot by then.")
WRONG_HOLDER: Final = N_("The {thrower} throws in, so the ball cannot be with the {holder}.")
LOOK_NOBODY: Final = N_("Look “{id}” is at “{action}”, and there is no such action in this play.")
LOOK_OTHER: Final = N_("Look “{id}” is for the {receiver}, but “{action}” is done by the {role}.")
LOOK_SELF: Final = N_("In look “{id}” the {role} passes to the {role}.")
LOOK_NO_BALL: Final = N_("In look “{id}” the {role} passes, but never has the ball.")

_ALONE: Final = frozenset({Moment.SIGNAL, Moment.BALL_IN})


def as_run(run: Run) -> Iterator[Fault]:
    """What goes wrong when the play, or a counter of it, is run in order."""
    script = CueGraph(run.play)
    yield from _cues(run, script)
    yield from _circles(run, script)
    yield from _ball(run)
    yield from _looks(run, script)


def _cues(run: Run, script: CueGraph) -> Iterator[Fault]:
    comes_in = script.throw_in is not None or (run.play.thrower is not None and run.play.looks)
    for line in run.lines:
        for index, cue in enumerate(line.action.cues):
            place = (*line.place, "cues", index)
            if cue.on is Moment.BALL_IN and not comes_in:
                yield Fault(place, "cue_never", NO_THROW, {"id": line.action.id})
            elif cue.on not in _ALONE:
                yield from _cue(run, place, line.action, cue, script)


def _cue(run: Run, place: Place, action: Action, cue: Cue, script: CueGraph) -> Iterator[Fault]:
    slots = {"id": action.id, "other": cue.action or ""}
    other = script.by_id.get(cue.action or "")
    if not cue.action:
        yield Fault((*place, "action"), "cue_no_action", NO_NAME, slots)
    elif other is None:
        removed = run.counter is not None and cue.action in run.counter.remove
        template = REMOVED if removed else NEVER
        yield Fault((*place, "action"), "cue_never", template, slots)
    elif cue.on is Moment.SET and other.kind is not ActionKind.SCREEN:
        yield Fault((*place, "on"), "cue_no_screen", NO_SCREEN, slots)
    elif cue.on is Moment.HAS_LEFT and not other.path:
        yield Fault((*place, "on"), "cue_never", STAYS, slots | {"role": other.role})
    elif cue.on is Moment.PASSES:
        yield from _point(place, cue, other, slots)
    elif cue.on is Moment.END and _held_on(script, other):
        yield Fault((*place, "on"), "cue_never", HELD_ON, slots | {"role": other.role})


def _held_on(script: CueGraph, action: Action) -> bool:
    return action.kind is ActionKind.HOLD and script.next[action.id] is None


def _point(place: Place, cue: Cue, other: Action, slots: dict[str, str]) -> Iterator[Fault]:
    if not other.path:
        yield Fault((*place, "action"), "cue_point", NO_WAY, slots)
    elif cue.point is None:
        yield Fault((*place, "point"), "cue_point", NO_POINT, slots)
    elif not 0 <= cue.point < len(other.path):
        numbers: dict[str, Slot] = {"n": cue.point + 1, "count": len(other.path)}
        yield Fault((*place, "point"), "cue_point", POINT_OUT, {**slots, **numbers})


def _circles(run: Run, script: CueGraph) -> Iterator[Fault]:
    places = {line.action.id: line.place for line in reversed(run.lines)}
    for circle in script.cycles():
        place = (*places[circle[0]], "cues")
        if len(circle) == 1:
            yield Fault(place, "cue_cycle", SELF, {"id": circle[0]})
        else:
            ids = ", ".join(f"“{id_}”" for id_ in circle)
            yield Fault(place, "cue_cycle", CYCLE, {"ids": ids})


def _ball(run: Run) -> Iterator[Fault]:
    """Who plays the ball must have it, in written order."""
    play = run.play
    if play.thrower is not None and play.ball != play.thrower:
        slots = {"thrower": play.thrower, "holder": play.ball}
        yield Fault(("ball",), "two_balls", WRONG_HOLDER, slots)
    ball = Ball(play.ball)
    for line in run.lines:
        ball = ball.entering(play, line.phase)
        if line.action.kind in BALL_USERS and line.action.role != ball.holder:
            yield _without(line, ball.holder)
        ball = ball.after(line.action)


def _without(line: WrittenLine, holder: Role | None) -> Fault:
    gives = line.action.kind in BALL_MOVERS
    slots = {"id": line.action.id, "role": line.action.role}
    place = (*line.place, "role")
    if holder is None:
        return Fault(place, "no_ball", LOST_BALL if gives else SHOT_BALL, slots)
    slots["holder"] = holder
    return Fault(place, *(("no_ball", NO_BALL) if gives else ("two_balls", TWO_BALLS)), slots)


def _looks(run: Run, script: CueGraph) -> Iterator[Fault]:
    """Who passes must have the ball from the start, by a written pass or by another look."""
    known = script.by_id
    holders = {run.play.ball} | {look.receiver for _, look in run.looks}
    holders |= {line.action.to for line in run.lines if line.action.to is not None}
    for place, look in run.looks:
        slots = {"id": look.id, "action": look.action, "receiver": look.receiver}
        slots["role"] = look.passer
        if look.passer == look.receiver:
            yield Fault((*place, "receiver"), "look_self", LOOK_SELF, slots)
        elif look.passer not in holders:
            yield Fault((*place, "passer"), "no_ball", LOOK_NO_BALL, slots)
        yield from _look_action(place, look, known, slots)


def _look_action(
    place: Place, look: Look, known: Mapping[str, Action], slots: dict[str, str]
) -> Iterator[Fault]:
    action = known.get(look.action)
    if action is None:
        yield Fault((*place, "action"), "look_nobody", LOOK_NOBODY, slots)
    elif action.role != look.receiver:
        template_slots = slots | {"role": action.role}
        yield Fault((*place, "action"), "look_nobody", LOOK_OTHER, template_slots)
