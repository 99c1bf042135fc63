"""One thing that tuning changes, and a plan of several, applied to the play it began from.

A plan holds at most one change of each subject and is always applied to the original, so any
change can be taken back alone. Metres by quarters, as in ``limits``.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any, Literal

from plays.core.limits import DIGITS
from plays.core.play import Action, Cue, Moment, Play, Point
from plays.core.tune.limits import QUARTER

Subject = tuple[str, str]  # what, and whose or which


@dataclass(frozen=True, slots=True)
class Shift:
    """A start, by its role, or the place of a screen, by its action, so many quarters of a metre
    to the right and up the court."""

    what: Literal["start", "screen"]
    id: str
    right: int
    up: int

    @property
    def subject(self) -> Subject:
        return self.what, self.id

    @property
    def metres(self) -> float:
        return abs(complex(self.right, self.up)) * QUARTER

    def moved(self, point: Point) -> Point:
        x, y = point.x + self.right * QUARTER, point.y + self.up * QUARTER
        return Point(round(x, DIGITS), round(y, DIGITS))

    def to_json(self) -> dict[str, Any]:
        return asdict(self)


@dataclass(frozen=True, slots=True)
class Waiting:
    """An action that waits for ``cues`` from now on."""

    action: str
    cues: tuple[Cue, ...]

    @property
    def subject(self) -> Subject:
        return "wait", self.action

    def to_json(self) -> dict[str, Any]:
        return {
            "action": self.action,
            "cues": [{**asdict(cue), "on": cue.on.value} for cue in self.cues],
        }


Change = Shift | Waiting
Plan = tuple[Change, ...]


def change_from_json(data: Mapping[str, Any]) -> Change:
    """The inverse of a change's ``to_json``."""
    if "cues" in data:
        cues = tuple(Cue(**{**cue, "on": Moment(cue["on"])}) for cue in data["cues"])
        return Waiting(data["action"], cues)
    return Shift(data["what"], data["id"], int(data["right"]), int(data["up"]))


def with_change(plan: Plan, change: Change) -> Plan:
    """The plan with this in place of what it said of the subject."""
    return plan_of((*without(plan, change.subject), change))


def without(plan: Plan, subject: Subject) -> Plan:
    return tuple(each for each in plan if each.subject != subject)


def plan_of(changes: Iterable[Change]) -> Plan:
    """In one order, so that equal plans are equal."""
    return tuple(sorted(changes, key=lambda change: change.subject))


def applied(play: Play, plan: Plan) -> Play:
    """The play with every change of the plan."""
    known = {change.subject: change for change in plan}
    starts = tuple(
        replace(start, at=shift.moved(start.at))
        if isinstance(shift := known.get(("start", start.role)), Shift)
        else start
        for start in play.starts
    )
    phases = tuple(
        replace(phase, actions=tuple(_action(each, known) for each in phase.actions))
        for phase in play.phases
    )
    return replace(play, starts=starts, phases=phases)


def _action(action: Action, known: Mapping[Subject, Change]) -> Action:
    shift, waiting = known.get(("screen", action.id)), known.get(("wait", action.id))
    if isinstance(shift, Shift):
        action = replace(action, path=(*action.path[:-1], shift.moved(action.path[-1])))
    return replace(action, cues=waiting.cues) if isinstance(waiting, Waiting) else action
