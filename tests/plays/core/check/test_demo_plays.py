"""The demo plays at four ages and three defences: what a coach would recognise.

"Common practice, no source" where a test says what a defence takes away.
"""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from plays.core.check.check import Report, Tactic, check_many
from plays.core.check.files import OK, SERIOUS, UNREADABLE, check_data, check_folder
from plays.core.check.standing import standings
from plays.core.defence.verdict import Word
from plays.core.document.file import read_play
from plays.core.play import AgeGroup, Play

FOLDER = Path(__file__).parents[4] / "coachbook" / "demo" / "plays"
AGES = (AgeGroup.U12, AgeGroup.U14, AgeGroup.U16, AgeGroup.ADULT)
DEFENCES = (Tactic.CHASE, Tactic.TIGHT, Tactic.SWITCH)
FILES = sorted(FOLDER.glob("*.json"))


@cache
def play_of(path: Path) -> Play:
    return read_play(path.read_bytes())


@cache
def reports(path: Path) -> dict[tuple[AgeGroup, Tactic], Report]:
    return check_many(play_of(path), ages=AGES, defences=DEFENCES)


def test_there_are_twenty_at_least() -> None:
    assert len(FILES) >= 20


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_play_can_be_run_at_its_own_level(path: Path) -> None:
    play = play_of(path)
    level = play.level if play.level in AGES else AgeGroup.ADULT
    report = reports(path)[level, Tactic.CHASE]
    assert report.runnable, [finding.sentence for finding in report.findings]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_slower_age_group_never_releases_earlier(path: Path) -> None:
    found = reports(path)
    for younger, older in pairwise(AGES):
        slow, fast = found[younger, Tactic.CHASE].line, found[older, Tactic.CHASE].line
        for one, other in zip(slow.windows, fast.windows, strict=True):
            assert one.earliest >= other.earliest - 1e-6, one.look.id


def test_three_plays_at_least_tell_a_chase_from_a_switch() -> None:
    """What a screen is worth against whoever follows tightly is lost on who switches, or sags off.

    Common practice, no source.
    """
    rank = {Word.NOT_YET: 0, Word.PAST: 0, Word.COVERED: 1, Word.CONTESTED: 2, Word.OPEN: 3}
    telling = set()
    for path in FILES:
        play = play_of(path)
        level = play.level if play.level in AGES else AgeGroup.ADULT
        found = reports(path)
        pairs = zip(
            found[level, Tactic.TIGHT].verdicts, found[level, Tactic.SWITCH].verdicts, strict=True
        )
        if any(rank[a.word] > rank[b.word] and a.margin > b.margin + 0.15 for a, b in pairs):
            telling.add(path.stem)
    assert len(telling) >= 3, telling


def test_a_folder_is_checked_file_by_file() -> None:
    checked = list(check_folder(FOLDER))
    assert len(checked) == len(FILES)
    assert all(OK <= one.status < SERIOUS for one in checked)
    assert all(list(one.lines()) for one in checked)
    assert {one.to_json()["report"]["play"] for one in checked} == {path.stem for path in FILES}


def test_a_file_that_is_no_play_says_why() -> None:
    for data in (b"{", b"[]", b'{"coachbook_play": 1}', b"\xff\xfe"):
        checked = check_data("broken.json", data)
        assert checked.status == UNREADABLE
        assert list(checked.lines())
        assert checked.to_json()["problems"]


def test_the_library_table_puts_the_worst_margin_first() -> None:
    table = standings(reports(path)[AgeGroup.U12, Tactic.SWITCH] for path in FILES)
    assert len(table) == len(FILES)
    margins = [line.margin for line in table if line.margin is not None]
    assert margins == sorted(margins)
    assert 0 < sum(line.suits for line in table) < len(FILES)


def test_more_plays_suit_an_older_group() -> None:
    def suited(age: AgeGroup) -> int:
        return sum(
            line.suits for line in standings(reports(path)[age, Tactic.CHASE] for path in FILES)
        )

    assert suited(AgeGroup.U12) < suited(AgeGroup.U16) <= len(FILES)
