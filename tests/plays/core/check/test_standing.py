"""The library's table: a line for each play, by what a report says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.check.check import check
from plays.core.check.moments import Happening
from plays.core.check.setting import DRAWN, defence_words
from plays.core.check.standing import Standing, standing, standings
from plays.core.defence.verdict import Tactic, Word
from plays.core.play import AgeGroup
from shared.core.finding import Severity
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO

REPORT = check(DEMO[0], age=AgeGroup.ADULT)
LINE = standing(REPORT)


def test_a_line_counts_looks_and_findings_and_takes_the_best_margin() -> None:
    there = [v for v in REPORT.verdicts if v.word in (Word.OPEN, Word.CONTESTED)]
    severities = [finding.severity for finding in REPORT.findings]
    assert (
        Standing(
            play=DEMO[0].key,
            name=DEMO[0].name,
            age=AgeGroup.ADULT,
            defence=Tactic.CHASE,
            looks=len(DEMO[0].looks),
            there=len(there),
            margin=max(v.margin for v in REPORT.verdicts if v.in_time),
            serious=severities.count(Severity.SERIOUS),
            warnings=severities.count(Severity.WARNING),
        )
        == LINE
    )


@pytest.mark.parametrize(
    ("serious", "looks", "there", "suits"),
    [(0, 3, 1, True), (0, 3, 0, False), (0, 0, 0, True), (1, 3, 3, False), (1, 0, 0, False)],
)
def test_a_play_suits_with_a_look_to_throw_and_nothing_serious(
    serious: int, looks: int, there: int, *, suits: bool
) -> None:
    assert replace(LINE, serious=serious, looks=looks, there=there).suits is suits


def test_who_has_no_look_in_time_leads_then_the_worst_margin() -> None:
    verdicts = REPORT.verdicts
    late = replace(REPORT, verdicts=tuple(replace(v, word=Word.NOT_YET) for v in verdicts))
    worse = replace(REPORT, verdicts=tuple(replace(v, margin=v.margin - 0.5) for v in verdicts))
    found = standings([REPORT, worse, late])
    assert [line.margin is None for line in found] == [True, False, False]
    assert found[1:] == (standing(worse), LINE)


def test_a_defence_is_told_for_a_sentence() -> None:
    assert defence_words(DRAWN, ENGLISH) == "as drawn, then chase"
    assert defence_words("switch", ENGLISH, ("4", "5")).endswith("(on 4 and 5)")
    with pytest.raises(ValueError, match="yawn"):
        defence_words("yawn", ENGLISH)


def test_a_happening_as_data_is_by_the_hundredth_of_a_second() -> None:
    assert Happening(1.2345, "The 4 cuts.", "c4").to_json() == {
        "at": 1.23,
        "says": "The 4 cuts.",
        "action": "c4",
    }
