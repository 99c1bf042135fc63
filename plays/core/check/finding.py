"""What a finding is, and the mechanical remedies that can be applied to a play.

A finding says what the check found: a code, how bad, who, when, where, in a sentence, with
what to do about it. Where it rests on a rule book it cites book, edition and article; where
on a rule of thumb of ours, it says so.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any, Final

from plays.core.court.rules import Article
from plays.core.motion.timeline import Window
from plays.core.play import Action, Cue, Moment, Play, Point, Role
from plays.core.words.speaker import NAMED, UNNAMED
from shared.core.language import ENGLISH, N_, Language, Slot, sentence

HOUSE: Final = N_("A rule of thumb of ours; no book says so.")
COMPUTED: Final = N_("Computed with the constants of the age group.")
RULED: Final = N_("{article}. Your local rules come first.")
JUDGED: Final = N_(
    "{article}; what a normal step is, the referee judges. Your local rules come first."
)
LOOK: Final = N_("look {n} ({passer} to {receiver})")


class Severity(StrEnum):
    """How bad: it cannot work or is against a rule; it will often go wrong; worth knowing."""

    SERIOUS = "serious"
    WARNING = "warning"
    NOTE = "note"


class Basis(StrEnum):
    """What a finding rests on."""

    COMPUTED = "computed"
    RULE = "rule"
    HOUSE = "house"


ORDER: Final = {Severity.SERIOUS: 0, Severity.WARNING: 1, Severity.NOTE: 2}


@dataclass(frozen=True, slots=True)
class Fix:
    """A remedy that can be applied: ``later`` seconds more (or fewer) before an action starts,
    or the ``looks`` in a new order."""

    action: str | None = None
    later: float = 0.0
    looks: tuple[str, ...] = ()

    def to_json(self) -> dict[str, Any]:
        return {"action": self.action, "later": self.later, "looks": list(self.looks)}

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Fix:
        """Raises ValueError for anything that ``to_json`` does not make."""
        try:
            action, later, looks = data["action"], float(data["later"]), data["looks"]
        except (KeyError, TypeError, ValueError) as wrong:
            raise ValueError("a remedy has action, later and looks") from wrong
        named = action is None or isinstance(action, str)
        listed = isinstance(looks, list) and all(isinstance(look, str) for look in looks)
        if not (named and listed and math.isfinite(later)):
            raise ValueError("a remedy has action, later and looks")
        return cls(action, later, tuple(looks))


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing the check found. ``when`` is in seconds from the ball at disposal."""

    code: str
    severity: Severity
    basis: Basis
    sentence: str
    remedy: str
    source: str
    roles: tuple[Role, ...] = ()
    when: float | None = None
    where: Point | None = None
    phase: str | None = None
    action: str | None = None
    look: str | None = None
    counter: str | None = None
    fix: Fix | None = None

    def to_json(self) -> dict[str, Any]:
        """Plain values, for a page or a command."""
        return {
            "code": self.code,
            "severity": self.severity.value,
            "basis": self.basis.value,
            "sentence": self.sentence,
            "remedy": self.remedy,
            "source": self.source,
            "roles": list(self.roles),
            "when": None if self.when is None else round(self.when, 3),
            "where": None if self.where is None else [round(c, 3) for c in self.where],
            "phase": self.phase,
            "action": self.action,
            "look": self.look,
            "counter": self.counter,
            "fix": None if self.fix is None else self.fix.to_json(),
        }


@dataclass(frozen=True, slots=True)
class Voice:
    """Puts people, looks and numbers into words."""

    language: Language = ENGLISH
    names: Mapping[Role, str] = field(default_factory=dict)

    def who(self, role: Role) -> str:
        name = self.names.get(role, "").strip()
        if name:
            return self.language.say(NAMED, name=name, role=role)
        return self.language.say(UNNAMED, role=role)

    def look(self, window: Window) -> str:
        look = window.look
        passer, receiver = self.who(look.passer), self.who(look.receiver)
        return self.language.say(LOOK, n=window.index + 1, passer=passer, receiver=receiver)

    def number(self, value: float, digits: int = 1) -> str:
        return self.language.number(value, digits)

    def say(self, template: str, /, **slots: Slot) -> str:
        return sentence(self.language.say(template, **slots))

    def source(self, basis: Basis, article: Article | None = None, *, judged: bool = False) -> str:
        if article is not None:
            template = JUDGED if judged else RULED
            return self.language.say(template, article=article.cited(self.language))
        return self.language.say(HOUSE if basis is Basis.HOUSE else COMPUTED)


def apply_remedy(play: Play, fix: Fix) -> Play:
    """The play with a mechanical remedy applied.

    Raises ValueError when it does not fit the play (another revision, say).
    """
    if fix.looks:
        return _with_order(play, fix.looks)
    known = {action.id: action for action in play.actions()}
    if fix.action not in known:
        raise ValueError(f"the play has no action {fix.action!r}")
    changed = _later(play, known[fix.action], fix.later)
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
    cues = action.cues or (_implied(play, action),)
    moved = tuple(replace(cue, wait=round(max(cue.wait + seconds, 0.0), 3)) for cue in cues)
    return replace(action, cues=moved)


def _implied(play: Play, action: Action) -> Cue:
    """The cue that an action without one has: the role's last action, or the signal."""
    mine = [other.id for other in play.actions() if other.role == action.role]
    index = mine.index(action.id)
    return Cue(Moment.END, mine[index - 1]) if index else Cue(Moment.SIGNAL)
