"""The lines in which a checked file is told."""

from __future__ import annotations

from dataclasses import replace

from coachbook.demo.files import demo_play
from plays.core.check.check import check
from plays.core.check.files import SERIOUS, Checked, check_data
from plays.core.check.standing import standing
from plays.core.document.file import write_play
from plays.core.play import AgeGroup, Counter, Cue, Defence, Look, Moment
from tests.plays.core.samples import box, cut


def test_a_finding_of_a_counter_names_it() -> None:
    report = check(box(), age=AgeGroup.U10)
    finding = report.findings[0]
    told = replace(report, findings=(replace(finding, counter="front"), finding))
    named, plain = Checked("box.json", told).lines()
    assert ", counter front: " in named
    assert "counter" not in plain
    assert named.replace(", counter front", "") == plain


def test_a_play_whose_counter_comes_too_late_fails_as_a_file_and_in_the_library() -> None:
    """The play alone can be run; its only look against a sagging defence is after the count."""
    play = replace(demo_play("half-tide"), counters=())
    slow = cut("four-late", "4", (-5.0, 7.0), cues=(Cue(Moment.SIGNAL, wait=6.0),))
    looks = (Look("late", "1", "4", "four-late"),)
    first = play.phases[0].id
    counter = Counter("sagging", Defence.SAG, first, "They sag.", looks=looks, add=(slow,))
    both = replace(play, counters=(counter,))
    alone, file = (check_data("play.json", write_play(each)) for each in (play, both))
    assert alone.status < file.status == SERIOUS
    mine = [line for line in file.lines() if ", counter sagging: " in line]
    assert any("after the count of 5" in line for line in mine)
    assert not any("counter" in line for line in alone.lines())
    rows = [standing(each.report) for each in (alone, file) if each.report is not None]
    assert [(row.serious > 0, row.suits) for row in rows] == [(False, True), (True, False)]
