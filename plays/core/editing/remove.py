"""Taking something out of a play together with everything that points at it."""

from __future__ import annotations

from collections import Counter as Tally
from collections.abc import Collection
from dataclasses import replace

from plays.core.editing.phases import loosened
from plays.core.play import Action, Counter, Joint, Look, Play


def without_action(play: Play, gone: Collection[str]) -> Play:
    """The play without these actions, and without cues, looks and counters' changes at them.

    Whoever screened together with one of them screens alone; what closed their gate goes too.
    """
    alone = _left_alone(play, gone)
    closing = {id_ for id_, joint in alone.items() if joint.part == "close"}
    if closing - set(gone):
        return without_action(play, {*gone, *closing})
    phases = tuple(
        replace(phase, actions=_parted(_kept(phase.actions, gone), alone)) for phase in play.phases
    )
    counters = tuple(_counter(each, gone) for each in play.counters)
    left = replace(play, phases=phases, looks=_looks(play.looks, gone), counters=counters)
    return loosened(left)


def without_phase(play: Play, phase: str) -> Play:
    """The play without a phase; its counters begin with what takes its place."""
    ids = [each.id for each in play.phases]
    index = ids.index(phase)
    heir = ids[index + 1] if index + 1 < len(ids) else ids[index - 1]
    left = without_action(play, {each.id for each in play.phases[index].actions})
    counters = tuple(
        replace(each, from_phase=heir) if each.from_phase == phase else each
        for each in left.counters
    )
    phases = tuple(each for each in left.phases if each.id != phase)
    return replace(left, phases=phases, counters=counters)


def _kept(actions: tuple[Action, ...], gone: Collection[str]) -> tuple[Action, ...]:
    return tuple(
        replace(each, cues=tuple(cue for cue in each.cues if cue.action not in gone))
        for each in actions
        if each.id not in gone
    )


def _left_alone(play: Play, gone: Collection[str]) -> dict[str, Joint]:
    """The joints, by action, that would be left with one who opens."""
    before: Tally[str] = Tally()
    after: Tally[str] = Tally()
    joints = {each.id: each.joint for each in play.actions() if each.joint}
    for id_, joint in joints.items():
        if joint.part == "open":
            before[joint.name] += 1
            after[joint.name] += id_ not in gone
    left = {name for name, n in before.items() if after[name] < 2 and after[name] < n}
    return {id_: joint for id_, joint in joints.items() if joint.name in left}


def _parted(actions: tuple[Action, ...], alone: Collection[str]) -> tuple[Action, ...]:
    return tuple(replace(each, joint=None) if each.id in alone else each for each in actions)


def _looks(looks: tuple[Look, ...], gone: Collection[str]) -> tuple[Look, ...]:
    return tuple(look for look in looks if look.action not in gone)


def _counter(counter: Counter, gone: Collection[str]) -> Counter:
    return replace(
        counter,
        remove=tuple(each for each in counter.remove if each not in gone),
        replace=_kept(counter.replace, gone),
        add=_kept(counter.add, gone),
        looks=_looks(counter.looks, gone),
    )
