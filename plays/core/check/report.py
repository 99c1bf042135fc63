"""The report of a check: what was found, and the looks' verdicts, also as plain values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from plays.core.check.after import OwnWay
from plays.core.check.counters import CounterVerdict
from plays.core.check.finding import PlayFinding
from plays.core.defence.verdict import Tactic, Verdict
from plays.core.motion.timeline import Timeline
from plays.core.play import AgeGroup, Play, RuleSet
from shared.core.finding import Severity


@dataclass(frozen=True, slots=True)
class Report:
    """All that the check found, of the play and of its counters' own looks and actions.

    ``findings`` stand the worst first, then by time.
    """

    play: Play
    age: AgeGroup
    effort: float
    defence: Tactic
    rule_set: RuleSet
    line: Timeline
    verdicts: tuple[Verdict, ...]
    counters: tuple[CounterVerdict, ...]
    findings: tuple[PlayFinding, ...]
    further: tuple[tuple[OwnWay, Timeline], ...] = ()  # how it runs after other looks

    @property
    def worst(self) -> Severity | None:
        """The severity of the worst finding, None without any."""
        return self.findings[0].severity if self.findings else None

    @property
    def runnable(self) -> bool:
        """Whether nothing speaks against it seriously."""
        return self.worst is not Severity.SERIOUS

    @property
    def best_margin(self) -> float | None:
        """The greatest margin of a look that is in time, at its turn."""
        return max((v.margin for v in self.verdicts if v.in_time), default=None)

    def to_json(self) -> dict[str, Any]:
        """Plain values, for a page or a command."""
        return {
            "play": self.play.key,
            "age": self.age.value,
            "effort": self.effort,
            "defence": self.defence.value,
            "rule_set": self.rule_set.value,
            "worst": None if self.worst is None else self.worst.value,
            "looks": [look_to_json(verdict) for verdict in self.verdicts],
            "counters": [verdict.to_json() for verdict in self.counters],
            "findings": [finding.to_json() for finding in self.findings],
        }


def look_to_json(verdict: Verdict) -> dict[str, Any]:
    """One look against one defence in plain values, times to the hundredth."""
    window = verdict.window
    return {
        "look": verdict.look,
        "passer": window.look.passer,
        "receiver": window.look.receiver,
        "earliest": round(window.earliest, 2),
        "in_turn": round(window.in_turn, 2),
        "latest": round(window.latest, 2),
        "flight": round(window.throw.seconds, 2),
        "turn": round(verdict.turn, 2),
        "margin": round(verdict.margin, 2),
        "word": verdict.word.value,
        "index": round(verdict.index, 2),
        "parts": verdict.parts.to_json(),
        "held": [[held.screener, round(held.seconds, 2)] for held in verdict.held],
        "best": round(verdict.best, 2),
        "best_margin": round(verdict.best_margin, 2),
        "guess": window.look.guess,
        "stopper": verdict.stopper,
        "margins": [
            [round(release, 2), round(margin, 2)]
            for release, margin in zip(verdict.releases, verdict.margins, strict=True)
        ],
    }
