"""What a finding about a play says beyond any other finding.

A code, how bad, who, when, where, in a sentence, with
what to do about it. Where it rests on a rule book it cites book, edition and article; where
on a rule of thumb of ours, it says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Any, Final

from plays.core.check.remedy import Fix
from plays.core.court.rules import Article
from plays.core.play import Point, Role
from plays.core.words.speaker import Voice
from shared.core.finding import Finding
from shared.core.language import N_

HOUSE: Final = N_("A rule of thumb of ours; no book says so.")
COMPUTED: Final = N_("Computed with the constants of the age group.")
RULED: Final = N_("{article}. Your local rules come first.")
JUDGED: Final = N_(
    "{article}; what a normal step is, the referee judges. Your local rules come first."
)


class Basis(StrEnum):
    """What a finding rests on."""

    COMPUTED = "computed"
    RULE = "rule"
    HOUSE = "house"


BASES: Final[Mapping[Basis, str]] = MappingProxyType(
    {
        Basis.COMPUTED: N_("computed"),
        Basis.RULE: N_("rule book"),
        Basis.HOUSE: N_("our rule of thumb"),
    }
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayFinding(Finding):
    """One thing the check found of a play; its place is told by phase, action, look or counter.

    ``variant`` is the call by which it is found, None for the play's first.
    ``when`` is in seconds from the ball at disposal.
    """

    place: str = ""
    basis: Basis
    remedy: str
    roles: tuple[Role, ...] = ()
    when: float | None = None
    where: Point | None = None
    phase: str | None = None
    action: str | None = None
    look: str | None = None
    counter: str | None = None
    variant: str | None = None
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
            "variant": self.variant,
            "fix": None if self.fix is None else self.fix.to_json(),
        }


def source_of(
    voice: Voice, basis: Basis, article: Article | None = None, *, judged: bool = False
) -> str:
    """What the finding rests on, as a sentence: the article, where a book has one."""
    if article is not None:
        template = JUDGED if judged else RULED
        return voice.language.say(template, article=article.cited(voice.language))
    return voice.language.say(HOUSE if basis is Basis.HOUSE else COMPUTED)
