"""What the check says of a play while it is drawn: at once from one run, then with its bands."""

from __future__ import annotations

import json
from collections import Counter as Counts
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from plays.check.looks import LookRow, kept_bands, look_row
from plays.check.page import FindingRow, finding_row
from plays.core.check.bands import Band
from plays.core.check.check import Report
from plays.core.check.remedy import Fix, apply_remedy
from plays.core.check.setting import Setting, checked, defence_words, usual_defence
from plays.core.document.file import to_json
from plays.core.document.form import UNFINISHED, problems
from plays.core.editing.branch import with_run
from plays.core.editing.stand import is_undrawn
from plays.core.play import Counter, Play
from plays.core.sequence.course import run_of
from plays.editor.branches import drawn_run
from shared.core.finding import Finding
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class Advice:
    """A finding, and the gesture that applies its remedy; empty where none can be computed."""

    row: FindingRow
    command: str


@dataclass(frozen=True, slots=True)
class HowMany:
    """How many there are of a kind."""

    number: int
    mark: str
    word: str


@dataclass(frozen=True, slots=True)
class JudgedDrawing:
    """The looks and the findings; ``banded`` once it is known how sure the looks are."""

    looks: tuple[LookRow, ...]
    findings: tuple[Advice, ...]
    against: str
    banded: bool

    @property
    def look_tally(self) -> tuple[HowMany, ...]:
        return _tally(self.looks)

    @property
    def finding_tally(self) -> tuple[HowMany, ...]:
        return _tally(each.row for each in self.findings)


def report_of(
    run: Play,
    counter: Counter | None,
    language: Language,
    faults: Sequence[Finding] | None = None,
) -> Report | None:
    """The check at the play's own level; None where the clock cannot run, or nothing is drawn.

    A counter is judged against what it answers. ``faults`` are those of the run's form, where
    they are known already.
    """
    found = {each.code for each in (problems(run, language) if faults is None else faults)}
    if found - UNFINISHED or is_undrawn(run):
        return None
    return checked(run, _setting(run, counter), language=language)


def judged(
    play: Play,
    counter: Counter | None,
    report: Report,
    language: Language,
    bands: tuple[Band, ...] | None = None,
) -> JudgedDrawing:
    """The report as it stands beside the court; in a counter a remedy changes the counter alone.

    Who has nothing to do yet is told as missing, and not a second time as a finding.
    """
    known = {band.look: band for band in bands or ()}
    setting = _setting(play, counter)
    return JudgedDrawing(
        looks=tuple(look_row(v, known.get(v.look), {}, language) for v in report.verdicts),
        findings=tuple(
            Advice(
                finding_row(found, report.play, {}, language),
                "" if found.fix is None else _mending(play, counter, found.fix),
            )
            for found in report.findings
            if found.code != "idle"
        ),
        against=defence_words(setting.defence, language, setting.whose),
        banded=bands is not None,
    )


def banded(play: Play, counter_id: str, language: Language) -> JudgedDrawing | None:
    """The same with the bands, which take a second or two; None as for ``report_of``."""
    counter, run = drawn_run(play, counter_id)
    report = report_of(run, counter, language)
    if report is None:
        return None
    return judged(play, counter, report, language, kept_bands(run, _setting(play, counter)))


def _tally(rows: Iterable[LookRow | FindingRow]) -> tuple[HowMany, ...]:
    """In the order in which the kinds come first."""
    found = Counts((row.mark, row.word) for row in rows)
    return tuple(HowMany(number, mark, word) for (mark, word), number in found.items())


def _setting(play: Play, counter: Counter | None) -> Setting:
    if counter:
        return Setting(play.level, defence=counter.defence.value, whose=counter.whose)
    return Setting(play.level, defence=usual_defence(play))


def _mending(play: Play, counter: Counter | None, fix: Fix) -> str:
    """The whole play as it would be; empty where the remedy does not fit it.

    In a counter that is one which begins too late for the remedy: what is over stays.
    """
    try:
        mended = apply_remedy(run_of(play, counter), fix)
        if counter:
            mended = with_run(play, counter.id, mended)
    except ValueError:
        return ""
    if mended == play or {each.code for each in problems(mended)} - UNFINISHED:
        return ""
    return json.dumps({"do": "restore", "play": to_json(mended)}, ensure_ascii=False)
