"""What the check says of a play while it is drawn, each remedy as a gesture."""

from __future__ import annotations

import json
from dataclasses import dataclass

from plays.check.page import FindingRow, finding_row
from plays.core.check.remedy import Fix, apply_remedy
from plays.core.check.setting import Setting, checked, usual_defence
from plays.core.document.file import to_json
from plays.core.document.form import problems
from plays.core.play import Play
from plays.core.sequence.course import with_counter
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class Advice:
    """A finding, and the gesture that applies its remedy; empty where none can be computed."""

    row: FindingRow
    command: str


def judged(play: Play, counter_id: str, language: Language) -> tuple[Advice, ...] | None:
    """The findings at the play's own level; None for a play whose form is still faulty.

    In a counter they are those of its run, and nothing is mended there with a tap.
    """
    if problems(play, language):
        return None
    counter = {each.id: each for each in play.counters}.get(counter_id)
    run = with_counter(play, counter) if counter else play
    report = checked(run, Setting(play.level, defence=usual_defence(play)), language=language)
    return tuple(
        Advice(
            finding_row(found, run, {}, language),
            "" if counter or found.counter or found.fix is None else _mending(play, found.fix),
        )
        for found in report.findings
    )


def _mending(play: Play, fix: Fix) -> str:
    """The whole play as it would be; empty where the remedy does not fit it."""
    try:
        mended = apply_remedy(play, fix)
    except ValueError:
        return ""
    if mended == play or problems(mended):
        return ""
    return json.dumps({"do": "restore", "play": to_json(mended)}, ensure_ascii=False)
