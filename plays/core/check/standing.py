"""A library at a glance: which plays suit which age group and survive which defence.

A line is made of one report of ``findings``, and nothing is reckoned anew.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from plays.core.check.check import Report
from plays.core.defence.verdict import Tactic
from plays.core.play import AgeGroup
from shared.core.finding import Severity


@dataclass(frozen=True, slots=True)
class Standing:
    """One play at one age against one defence.

    ``there`` of ``looks`` are open or contested in time; ``margin`` is the best of them, None
    without a look in time; ``serious`` and ``warnings`` count findings.
    """

    play: str
    name: str
    age: AgeGroup
    defence: Tactic
    looks: int
    there: int
    margin: float | None
    serious: int
    warnings: int

    @property
    def suits(self) -> bool:
        """Nothing serious against it, and a look to throw (or none planned)."""
        return self.serious == 0 and (self.there > 0 or self.looks == 0)


def standing(report: Report) -> Standing:
    """The line of one report."""
    severities = [finding.severity for finding in report.findings]
    return Standing(
        play=report.play.key,
        name=report.play.name,
        age=report.age,
        defence=report.defence,
        looks=len(report.verdicts),
        there=sum(verdict.there for verdict in report.verdicts),
        margin=report.best_margin,
        serious=severities.count(Severity.SERIOUS),
        warnings=severities.count(Severity.WARNING),
    )


def standings(reports: Iterable[Report]) -> tuple[Standing, ...]:
    """One line for each report, the worst margin first; those without a look in time lead."""
    lines = [standing(report) for report in reports]
    return tuple(sorted(lines, key=lambda s: (s.margin is not None, s.margin or 0.0, s.play)))
