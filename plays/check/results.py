"""What the check says of the whole library: reckoned once for each content, and kept.

A result is kept under the play's content, the age group, the defence and the state of the
computing. Pages only read; the worker works off until nothing is missing.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from math import inf
from pathlib import Path
from typing import Final

from plays.core.check.check import Report, check_many
from plays.core.check.setting import Setting, staged
from plays.core.check.standing import standing
from plays.core.defence.verdict import Tactic
from plays.core.document.form import problems
from plays.core.motion.pace import EFFORT
from plays.core.play import AgeGroup
from plays.core.play import Play as PlayValue
from plays.models import Checking, CheckResult, Play
from plays.values import play_value, read_ahead
from shared.worker import Facts, Pulse

AGES: Final = tuple(AgeGroup)
DEFENCES: Final = (Tactic.CHASE, Tactic.SWITCH, Tactic.SAG)  # the columns of the table
JUDGED: Final = (*DEFENCES, Tactic.FRONT, Tactic.TRAP, Tactic.ZONE)  # what is reckoned and kept
AT_ONCE: Final = 1  # pairs of play and age group before the worker looks up again
ROOT: Final = Path(__file__).parents[2]
# What a result is computed with; a test holds it against what the check imports.
COMPUTING: Final = (
    "plays/core",
    "shared/core/drawing/curves.py",
    "shared/core/finding.py",
    "shared/core/language.py",
)

Key = tuple[str, str, str]  # content hash, age group, defence


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """A play of the library with its results, by age group and defence."""

    play: Play
    results: Mapping[tuple[str, str], CheckResult]

    def of(self, age: str, defence: str) -> CheckResult | None:
        return self.results.get((age, defence))

    def worst(self, age: str) -> float | None:
        """The smallest of the best margins against the defences; None where none is known.

        A defence against which no look is in time leaves less than any margin.
        """
        found = [self.of(age, tactic.value) for tactic in DEFENCES]
        known = [each.margin for each in found if each is not None]
        return min((-inf if margin is None else margin for margin in known), default=None)


@cache
def code_state() -> str:
    """A fingerprint of the sources that a result depends on."""
    return sha256(b"".join(path.read_bytes() for path in sources())).hexdigest()[:16]


def sources() -> list[Path]:
    """The files that a result depends on, in a steady order."""
    places = [ROOT / place for place in COMPUTING]
    return sorted(
        file for place in places for file in (place, *place.rglob("*.py")) if file.is_file()
    )


def rows(plays: Iterable[Play]) -> list[ShelfRow]:
    """The plays with what is known of them: one query beside that for the plays."""
    shelf = [play for play in plays if play.current is not None]
    hashes = {play.current.content_hash for play in shelf if play.current}
    kept = CheckResult.objects.filter(content_hash__in=hashes, code=code_state())
    known: dict[str, dict[tuple[str, str], CheckResult]] = {}
    for result in kept:
        known.setdefault(result.content_hash, {})[result.age, result.defence] = result
    return [ShelfRow(play, known.get(play.published().content_hash, {})) for play in shelf]


def library_rows() -> list[ShelfRow]:
    """Every play on the shelf with what is known of it."""
    shelf = Play.objects.on_shelf().with_current()
    return rows(shelf)


def missing(table: Sequence[ShelfRow]) -> list[tuple[Play, AgeGroup]]:
    """What is not reckoned yet, by age group and play."""
    return [
        (row.play, age)
        for age in AGES
        for row in table
        if any(row.of(age.value, tactic.value) is None for tactic in JUDGED)
    ]


def work_off(table: Sequence[ShelfRow], most: int = AT_ONCE) -> int:
    """Reckon the first ``most`` that are missing; how many are left then."""
    todo = missing(table)
    now = todo[:most]
    read_ahead(play.published() for play, _ in now)
    fresh: list[CheckResult] = []
    for play, age in now:
        value = play_value(play.published())
        if not problems(value):
            fresh.extend(results_of(value, play.published().content_hash, age))
        else:
            fresh.extend(_unsound(play.published().content_hash, age))
    CheckResult.objects.bulk_create(fresh, ignore_conflicts=True)
    if now and now == todo:
        forget_stale()
    return len(todo) - len(now)


def forget_stale() -> None:
    """Drop what another state of the computing has found."""
    CheckResult.objects.exclude(code=code_state()).delete()


def results_of(play: PlayValue, content: str, age: AgeGroup) -> list[CheckResult]:
    """One play at one age group against every defence of the table."""
    floor = staged(play, Setting(age, EFFORT))
    found = check_many(floor, ages=(age,), defences=JUDGED)
    return [result_of(report, content) for report in found.values()]


def result_of(report: Report, content: str) -> CheckResult:
    """A report boiled down to what the table shows."""
    line = standing(report)
    in_time = [verdict for verdict in report.verdicts if verdict.in_time]
    best = max(in_time, key=lambda verdict: verdict.margin, default=None)
    return CheckResult(
        content_hash=content,
        age=line.age.value,
        defence=line.defence.value,
        code=code_state(),
        serious=line.serious,
        warnings=line.warnings,
        notes=len(report.findings) - line.serious - line.warnings,
        margin=line.margin,
        look="" if best is None else best.look,
        word="" if best is None else best.word.value,
        there=line.there,
        looks=line.looks,
    )


def _unsound(content: str, age: AgeGroup) -> list[CheckResult]:
    """A play with faults of form cannot be run: that is serious, and all there is to say."""
    return [
        CheckResult(
            content_hash=content,
            age=age.value,
            defence=tactic.value,
            code=code_state(),
            serious=1,
            warnings=0,
            notes=0,
            there=0,
            looks=0,
        )
        for tactic in JUDGED
    ]


def work(_run: Checking, pulse: Pulse) -> Facts:
    """The worker: go on until nothing is missing, plays published meanwhile included."""
    left = work_off(library_rows())
    while left and pulse.report(left=left):
        left = work_off(library_rows())
    return {"left": left}
