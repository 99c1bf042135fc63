"""What the checks of form walk over: every written value with its place, and every way a play runs.

A play runs plainly and once for each counter, and each of these in a way for every look that a
rotation is kept for; the checks of cues, ball, looks and joint screens hold for all of them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, fields, is_dataclass
from typing import Any, NamedTuple

from plays.core.document.problem import Token
from plays.core.play import Action, Counter, Look, Phase, Play, Point
from plays.core.sequence.after_look import ways
from plays.core.sequence.course import with_counter
from shared.core.language import Slot

Place = tuple[Token, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """A problem not yet said: the place, its code, the template and what fills it."""

    place: Place
    code: str
    template: str
    slots: Mapping[str, Slot] = field(default_factory=dict)


class WrittenValue(NamedTuple):
    """A plain value inside a play: where, in what kind of thing, under which name."""

    place: Place
    kind: str
    name: str
    value: Any


def held(value: Any, place: Place = (), kind: str = "", name: str = "") -> Iterator[WrittenValue]:
    """Every text, number, flag, choice and None in a value, in the order of the model."""
    if is_dataclass(value):
        for part in fields(value):
            inner = getattr(value, part.name)
            yield from held(inner, (*place, part.name), type(value).__name__, part.name)
    elif isinstance(value, tuple) and not isinstance(value, Point):
        for index, item in enumerate(value):
            yield from held(item, (*place, index), kind, name)
    else:
        yield WrittenValue(place, kind, name, value)


class WrittenLine(NamedTuple):
    """An action as written: its place in the document and its phase."""

    place: Place
    phase: Phase
    action: Action


@dataclass(frozen=True, slots=True)
class Run:
    """One way a play runs: plainly, or by a counter."""

    play: Play
    lines: tuple[WrittenLine, ...]
    looks: tuple[tuple[Place, Look], ...]
    counter: Counter | None = None


def plain_run(play: Play) -> Run:
    """The play without a counter: every line and look with its place in the document."""
    lines = tuple(
        WrittenLine(("phases", p, "actions", a), phase, action)
        for p, phase in enumerate(play.phases)
        for a, action in enumerate(phase.actions)
    )
    looks = tuple((("looks", index), look) for index, look in enumerate(play.looks))
    return Run(play, lines, looks)


def counter_run(plain: Run, index: int) -> Run | None:
    """The play as this counter runs it, or None where the counter hangs in the air."""
    counter = plain.play.counters[index]
    if counter.from_phase not in {phase.id for phase in plain.play.phases}:
        return None
    changed = with_counter(plain.play, counter)
    places = {line.action.id: line.place for line in plain.lines}
    for name, actions in (("replace", counter.replace), ("add", counter.add)):
        places |= {a.id: ("counters", index, name, n) for n, a in enumerate(actions)}
    look_places = {id(look): place for place, look in plain.looks}
    look_places |= {
        id(look): ("counters", index, "looks", n) for n, look in enumerate(counter.looks)
    }
    return Run(
        changed,
        tuple(
            WrittenLine(places[action.id], phase, action)
            for phase in changed.phases
            for action in phase.actions
        ),
        tuple((look_places[id(look)], look) for look in changed.looks),
        counter,
    )


def ways_of(run: Run) -> tuple[Run, ...]:
    """Every way of a run by the looks that its rotations are kept for; mostly one.

    A look stands in each way that has its action, and one at no action of the play in all.
    """
    written = {line.action.id for line in run.lines}
    made = []
    for way in ways(run.play):
        phases = {phase.id: phase for phase in way.phases}
        lines = tuple(
            line._replace(phase=phases[line.phase.id])
            for line in run.lines
            if line.phase.id in phases
        )
        missing = written - {line.action.id for line in lines}
        looks = tuple((place, look) for place, look in run.looks if look.action not in missing)
        made.append(Run(way, lines, looks, run.counter))
    return tuple(made)


def all_actions(play: Play) -> Iterator[tuple[Place, Action]]:
    """The actions of the play and those its counters bring."""
    for p, phase in enumerate(play.phases):
        for a, action in enumerate(phase.actions):
            yield ("phases", p, "actions", a), action
    for c, counter in enumerate(play.counters):
        for name, actions in (("replace", counter.replace), ("add", counter.add)):
            for a, action in enumerate(actions):
                yield ("counters", c, name, a), action


def all_looks(play: Play) -> Iterator[tuple[Place, Look]]:
    """The looks of the play and those its counters bring."""
    for index, look in enumerate(play.looks):
        yield ("looks", index), look
    for c, counter in enumerate(play.counters):
        for index, look in enumerate(counter.looks):
            yield ("counters", c, "looks", index), look
