"""Check a play file, or a folder of them, without a site: findings as text or JSON.

The exit status tells the worst: 0 nothing worse than a note, 1 warnings, 2 serious, 3 a file
that is no play.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from plays.core.calls import by_role
from plays.core.check.check import Report
from plays.core.check.finding import PlayFinding
from plays.core.check.setting import Setting, checked, usual_defence
from plays.core.document.file import BadPlay, read_play
from plays.core.document.form import problems
from plays.core.motion.pace import EFFORT
from plays.core.play import AgeGroup, RuleSet
from shared.core.finding import SEVERITIES, Severity
from shared.core.language import ENGLISH, N_, Language

OK, WARNINGS, SERIOUS, UNREADABLE = range(4)
STATUS: Final = {Severity.SERIOUS: SERIOUS, Severity.WARNING: WARNINGS, Severity.NOTE: OK}

CLEAN: Final = N_("nothing found")
LINE: Final = N_("{severity}: {sentence} {remedy} ({source})")
VARIANT: Final = N_("{severity}, call {variant}: {sentence} {remedy} ({source})")
COUNTER: Final = N_("{severity}, counter {counter}: {sentence} {remedy} ({source})")


@dataclass(frozen=True, slots=True)
class Checked:
    """One file: its report, or the problems of form that made one impossible."""

    name: str
    report: Report | None
    problems: tuple[str, ...] = ()

    @property
    def status(self) -> int:
        if self.report is None:
            return UNREADABLE
        worst = self.report.worst
        return OK if worst is None else STATUS[worst]

    def lines(self, language: Language = ENGLISH) -> Iterator[str]:
        """The findings, one line each."""
        if self.report is None:
            yield from self.problems
            return
        if not self.report.findings:
            yield language.say(CLEAN)
        for finding in self.report.findings:
            yield language.say(
                _line(finding),
                variant=by_role(finding.variant or "", language),
                counter=finding.counter or "",
                severity=language.say(SEVERITIES[finding.severity]),
                sentence=finding.sentence,
                remedy=finding.remedy,
                source=finding.source,
            )

    def to_json(self) -> dict[str, Any]:
        return {
            "file": self.name,
            "status": self.status,
            "problems": list(self.problems),
            "report": None if self.report is None else self.report.to_json(),
        }


def _line(finding: PlayFinding) -> str:
    if finding.variant is not None:
        return VARIANT
    return LINE if finding.counter is None else COUNTER


def check_data(
    name: str,
    data: bytes,
    *,
    age: AgeGroup | None = None,
    effort: float = EFFORT,
    defence: str | None = None,
    rule_set: RuleSet | None = None,
    language: Language = ENGLISH,
) -> Checked:
    """Check the document of one play.

    Unless given, ``age`` is the play's own level, the defence as drawn where anybody is drawn
    (see ``check_setting.DEFENCES``), and the rule set that of the court it was drawn for.
    """
    try:
        play = read_play(data)
    except BadPlay as bad:
        return Checked(name, None, tuple(problem.sentence for problem in bad.problems))
    faults = problems(play, language)
    if faults:
        return Checked(name, None, tuple(problem.sentence for problem in faults))
    setting = Setting(age or play.level, effort, defence or usual_defence(play), rule_set)
    return Checked(name, checked(play, setting, language=language))


def check_file(path: Path, **how: Any) -> Checked:
    """Check one file; ``how`` as for ``check_data``. Raises OSError."""
    return check_data(str(path), path.read_bytes(), **how)


def check_folder(folder: Path, **how: Any) -> Iterator[Checked]:
    """Every ``.json`` file of a folder, by name."""
    for path in sorted(folder.glob("*.json")):
        yield check_file(path, **how)
