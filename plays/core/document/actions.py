"""Checks of actions: ids, phases, words that belong to another kind of action, joint screens."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import Final

from plays.core.document.walk import Fault, Place, Run, WrittenLine, all_actions
from plays.core.play import (
    ROLES,
    Action,
    ActionKind,
    Cue,
    Cut,
    Joint,
    JointShape,
    Moment,
    Play,
    Quality,
)
from shared.core.language import N_

NO_PHASES: Final = N_("The play has no phase, so nothing happens in it.")
NO_ACTIONS: Final = N_("Nothing happens in phase {n}.")
ROTATION_FIRST: Final = N_("Phase {n} comes after the rotation. The rotation is last.")
TWICE: Final = N_("The id “{id}” is used twice. Each needs its own.")
MISPLACED: Final = N_("In “{id}” the word “{key}” has no meaning: it is not for a {kind}.")
NOWHERE: Final = N_("In “{id}” the {role} cuts to nowhere: the path is empty.")
TO_NOBODY: Final = N_("In “{id}” the {role} gives the ball to nobody.")
TO_SELF: Final = N_("In “{id}” the {role} gives the ball to the {role}.")
OWN_SCREEN: Final = N_("In “{id}” the {role} screens for the {role}.")
CUE_WORD: Final = N_("A cue on “{moment}” of “{id}” has no use for “{key}”.")
IDLE: Final = N_("The {role} does nothing in the whole play.")
JOINT_ALONE: Final = N_("“{id}” is half of “{name}”, but no other role screens with the {role}.")
JOINT_MIXED: Final = N_("“{name}” is said to be a {one} and a {other}. It can be one only.")
JOINT_CLOSE: Final = N_("“{id}” closes “{name}”, but only a gate is closed.")
JOINT_CUTTERS: Final = N_(
    "“{name}” is for the {one} in one screen and for the {other} in the next."
)
JOINT_FULL: Final = N_("“{name}” is opened by more than two. A gate has two posts.")

_FOR: Final = {
    "path": frozenset(ActionKind) - {ActionKind.PASS, ActionKind.HANDOFF},
    "cut": frozenset({ActionKind.CUT}),
    "screen": frozenset({ActionKind.SCREEN}),
    "cutter": frozenset({ActionKind.SCREEN}),
    "joint": frozenset({ActionKind.SCREEN}),
    "to": frozenset({ActionKind.PASS, ActionKind.HANDOFF}),
    "pass_kind": frozenset({ActionKind.PASS}),
}
_ON_THE_SPOT: Final = frozenset({Cut.SEAL, Cut.POST_UP})
_ALONE: Final = frozenset({Moment.SIGNAL, Moment.BALL_IN})  # moments that need no action


def actions(play: Play) -> Iterator[Fault]:
    """What is wrong with the actions, one by one and as joint screens."""
    yield from _phases(play)
    yield from _ids(play)
    for place, action in all_actions(play):
        yield from _action(place, action)
    yield from _idle(play)


def _phases(play: Play) -> Iterator[Fault]:
    if not play.phases:
        yield Fault(("phases",), "no_phases", NO_PHASES)
    rotating = False
    for index, phase in enumerate(play.phases):
        if not phase.actions:
            yield Fault(("phases", index, "actions"), "no_actions", NO_ACTIONS, {"n": index + 1})
        if rotating and not phase.rotation:
            place = ("phases", index, "rotation")
            yield Fault(place, "rotation_first", ROTATION_FIRST, {"n": index + 1})
        rotating = rotating or phase.rotation


def _ids(play: Play) -> Iterator[Fault]:
    yield from _twice((("phases", n), phase.id) for n, phase in enumerate(play.phases))
    written = [(place, action.id) for place, action in all_actions(play) if place[0] == "phases"]
    yield from _twice(written)
    yield from _twice((("looks", n), look.id) for n, look in enumerate(play.looks))
    yield from _twice((("counters", n), counter.id) for n, counter in enumerate(play.counters))
    for c, counter in enumerate(play.counters):
        changed = {*counter.remove, *(action.id for action in counter.replace)}
        kept = [((), id_) for _, id_ in written if id_ not in changed]
        added = [(("counters", c, "add", n), action.id) for n, action in enumerate(counter.add)]
        yield from _twice([*dict.fromkeys(kept), *added])
        yield from _twice((("counters", c, "looks", n), k.id) for n, k in enumerate(counter.looks))


def _twice(ids: Iterable[tuple[Place, str]]) -> Iterator[Fault]:
    seen: set[str] = set()
    for place, id_ in ids:
        if id_ in seen:
            yield Fault((*place, "id"), "id_twice", TWICE, {"id": id_})
        seen.add(id_)


def _action(place: Place, action: Action) -> Iterator[Fault]:
    for key, kinds in _FOR.items():
        if getattr(action, key) and action.kind not in kinds:
            slots = {"id": action.id, "key": key, "kind": action.kind.value}
            yield Fault((*place, key), "misplaced", MISPLACED, slots)
    who = {"id": action.id, "role": action.role}
    if action.kind is ActionKind.CUT and not action.path and action.cut not in _ON_THE_SPOT:
        yield Fault((*place, "path"), "nowhere", NOWHERE, who)
    if action.kind in (ActionKind.PASS, ActionKind.HANDOFF):
        if action.to is None:
            yield Fault((*place, "to"), "to_nobody", TO_NOBODY, who)
        elif action.to == action.role:
            yield Fault((*place, "to"), "to_self", TO_SELF, who)
    if action.kind is ActionKind.SCREEN and action.cutter == action.role:
        yield Fault((*place, "cutter"), "own_screen", OWN_SCREEN, who)
    for index, cue in enumerate(action.cues):
        yield from _cue_words((*place, "cues", index), action, cue)


def _cue_words(place: Place, action: Action, cue: Cue) -> Iterator[Fault]:
    wrong = [("action", cue.action is not None and cue.on in _ALONE)]
    wrong.append(("point", cue.point is not None and cue.on is not Moment.PASSES))
    for key, misplaced in wrong:
        if misplaced:
            slots = {"id": action.id, "key": key, "moment": cue.on.value}
            yield Fault((*place, key), "misplaced", CUE_WORD, slots)


def _idle(play: Play) -> Iterator[Fault]:
    """A role is busy with an action, with a look to throw, or with a pass to catch."""
    if not play.phases:
        return
    busy = {action.role for action in play.actions()} | {look.passer for look in play.looks}
    busy |= {action.to for action in play.actions() if action.to is not None}
    for index, start in enumerate(play.starts):
        if start.role in ROLES and start.role not in busy:
            yield Fault(("starts", index), "idle_role", IDLE, {"role": start.role})
            busy.add(start.role)


def joints(run: Run) -> Iterator[Fault]:
    """Two who screen together: a partner each, one shape, one cutter, and only gates are closed."""
    named: dict[str, list[tuple[WrittenLine, Joint]]] = defaultdict(list)
    for line in run.lines:
        if line.action.joint is not None and line.action.kind is ActionKind.SCREEN:
            named[line.action.joint.name].append((line, line.action.joint))
    for name, members in named.items():
        yield from _posts(name, members)
        yield from _agreement(name, members)


def _posts(name: str, members: list[tuple[WrittenLine, Joint]]) -> Iterator[Fault]:
    posts = [line for line, joint in members if joint.part == "open"]
    roles = {line.action.role for line in posts}
    for line, joint in members:
        slots = {"id": line.action.id, "name": name, "role": line.action.role}
        if joint.part == "close" and joint.shape is not JointShape.GATE:
            yield Fault((*line.place, "joint", "part"), "joint_close", JOINT_CLOSE, slots)
        if len(roles) < 2 and (joint.part == "open" or not posts):
            yield Fault((*line.place, "joint"), "joint_alone", JOINT_ALONE, slots)
    gate = members[0][1].shape is JointShape.GATE
    if gate and len(posts) > 2:
        yield Fault((*posts[2].place, "joint"), "joint_full", JOINT_FULL, {"name": name})


def _agreement(name: str, members: list[tuple[WrittenLine, Joint]]) -> Iterator[Fault]:
    first, joint = members[0]
    for line, other in members[1:]:
        if other.shape is not joint.shape:
            slots = {"name": name, "one": joint.shape.value, "other": other.shape.value}
            yield Fault((*line.place, "joint", "shape"), "joint_mixed", JOINT_MIXED, slots)
        one, two = first.action.cutter, line.action.cutter
        if one != two and one is not None and two is not None:
            slots = {"name": name, "one": one, "other": two}
            yield Fault((*line.place, "cutter"), "joint_cutters", JOINT_CUTTERS, slots)


NEED_TWICE: Final = N_("The need of the {role} for {quality} is written twice. Keep one.")


def needs(play: Play) -> Iterator[Fault]:
    """What is wrong with the needs."""
    seen: set[tuple[str, Quality]] = set()
    for index, need in enumerate(play.needs):
        if (need.role, need.quality) in seen:
            slots = {"role": need.role, "quality": need.quality.value}
            yield Fault(("needs", index), "need_twice", NEED_TWICE, slots)
        seen.add((need.role, need.quality))
