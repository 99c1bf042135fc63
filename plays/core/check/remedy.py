"""Remedies that can be applied to a play: another wait, or the looks in another order."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from plays.core.play import Action, Cue, CueRule, Moment, Play
from plays.core.sequence.after_look import way_of
from plays.core.sequence.circles import circles


@dataclass(frozen=True, slots=True)
class Fix:
    """A remedy that can be applied: an action waits ``until`` a screen is set, or ``later``
    seconds more (or fewer) where it cannot; or the ``looks`` stand in a new order."""

    action: str | None = None
    later: float = 0.0
    looks: tuple[str, ...] = ()
    until: str | None = None

    def to_json(self) -> dict[str, Any]:
        return {
            "action": self.action,
            "later": self.later,
            "looks": list(self.looks),
            "until": self.until,
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Fix:
        """Raises ValueError for anything that ``to_json`` does not make."""
        try:
            action, later, looks = data["action"], float(data["later"]), data["looks"]
            until = data.get("until")
        except (KeyError, TypeError, ValueError) as wrong:
            raise ValueError("a remedy has action, later and looks") from wrong
        named = all(name is None or isinstance(name, str) for name in (action, until))
        listed = isinstance(looks, list) and all(isinstance(look, str) for look in looks)
        if not (named and listed and math.isfinite(later)):
            raise ValueError("a remedy has action, later and looks")
        return cls(action, later, tuple(looks), until)


def apply_remedy(play: Play, fix: Fix) -> Play:
    """The play with a mechanical remedy applied.

    Raises ValueError when it does not fit the play (another revision, say).
    """
    if fix.looks:
        return _with_order(play, fix.looks)
    known = {action.id: action for action in play.actions()}
    if fix.action not in known:
        raise ValueError(f"the play has no action {fix.action!r}")
    action = known[fix.action]
    if fix.until in known:
        read = _with_action(play, _until(action, str(fix.until)))
        if not circles(read):
            return read
    return _with_action(play, _later(play, action, fix.later))


def _with_action(play: Play, changed: Action) -> Play:
    phases = tuple(
        replace(
            phase,
            actions=tuple(changed if a.id == changed.id else a for a in phase.actions),
        )
        for phase in play.phases
    )
    return replace(play, phases=phases)


def rounded_up(seconds: float) -> float:
    """To the next tenth of a second: nobody counts finer."""
    return math.ceil(seconds * 10.0 - 1e-6) / 10.0


def _with_order(play: Play, ids: tuple[str, ...]) -> Play:
    looks = {look.id: look for look in play.looks}
    if sorted(ids) != sorted(looks):
        raise ValueError("the remedy orders other looks than the play has")
    return replace(play, looks=tuple(looks[id_] for id_ in ids))


def _later(play: Play, action: Action, seconds: float) -> Action:
    cues = action.cues or (implied_cue(play, action),)
    moved = tuple(replace(cue, wait=round(max(cue.wait + seconds, 0.0), 3)) for cue in cues)
    return replace(action, cues=moved)


def _until(action: Action, screen: str) -> Action:
    """The action waiting for a screen to be set, in place of a wait by the clock."""
    others = tuple(replace(cue, wait=0.0) for cue in action.cues if cue.on is not Moment.SIGNAL)
    kept = tuple(cue for cue in others if cue.action != screen)
    return replace(action, cues=(*kept, Cue(Moment.SET, screen)), cue_rule=CueRule.ALL)


def implied_cue(play: Play, action: Action) -> Cue:
    """The cue that an action without one has: the role's last action, or the signal."""
    run = way_of(play, action)
    mine = [other.id for other in run.actions() if other.role == action.role]
    index = mine.index(action.id)
    return Cue(Moment.END, mine[index - 1]) if index else Cue(Moment.SIGNAL)
