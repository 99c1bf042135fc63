"""What is counted in live play, looks that come too late, and counters in the verdict.

Three seconds: FIBA 26.1.1, NFHS 9-7, NBA Rule 10-VI, in the lane while the team controls the ball
in its frontcourt and the clock runs; none before the first touch of a throw-in. Backcourt: FIBA
28.1 eight seconds, NFHS 9-8 ten, NBA Rule 10-VIII eight.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.check.chain import quicker_read
from plays.core.check.check import Report, check
from plays.core.check.finding import PlayFinding
from plays.core.defence.verdict import Tactic, Word
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import (
    AgeGroup,
    Counter,
    Cue,
    Defence,
    Look,
    Moment,
    Phase,
    Play,
    Point,
    RuleSet,
    Situation,
    Spot,
)
from tests.plays.core.samples import after, box, cut, dribble, on_set, screen, still, throw

U14 = pace_of(AgeGroup.U14)


def found(report: Report, code: str) -> list[PlayFinding]:
    return [finding for finding in report.findings if finding.code == code]


def half_court(wait: float) -> Play:
    """2 dribbles, 5 stands on the block in the lane, and 3 is passed to after a while."""
    actions = (
        dribble("d2", "2", (0.0, 8.5)),
        cut("c3", "3", (-5.5, 6.5), cues=(Cue(Moment.SIGNAL, wait=wait),)),
    )
    places = ((7.0, 1.0), (2.0, 9.0), (-6.9, 3.0), (5.0, 7.0), (1.5, 3.0))
    play = replace(
        still(), situation=Situation.HALF_COURT, thrower=None, spot=None, ball="2",
        phases=(Phase("p", "Wait", actions),), looks=(Look("l", "2", "3", "c3"),),
    )  # fmt: skip
    starts = tuple(
        replace(start, at=Point(*at)) for start, at in zip(play.starts, places, strict=True)
    )
    return replace(play, starts=starts)


@pytest.mark.parametrize(
    ("rule_set", "article"),
    [(RuleSet.FIBA, "26.1.1"), (RuleSet.NFHS, "9-7"), (RuleSet.NBA, "10-VI")],
)
def test_who_stays_in_the_lane_in_live_play_is_found(rule_set: RuleSet, article: str) -> None:
    report = check(half_court(3.5), age=AgeGroup.U14, rule_set=rule_set)
    (finding,) = found(report, "three_seconds")
    assert finding.roles == ("5",)
    assert article in finding.source
    quick = check(half_court(0.0), age=AgeGroup.U14, rule_set=rule_set)
    assert not found(quick, "three_seconds")


def press_break(wait: float) -> Play:
    """From behind one's own baseline: 2 catches there, and passes over the centre line late."""
    actions = (
        cut("c2", "2", (2.0, 24.0)),
        throw("in", "1", "2", cues=(after(Moment.END, "c2"),)),
        cut("c3", "3", (-4.0, 12.0), cues=(Cue(Moment.BALL_IN, wait=wait),)),
    )
    play = replace(
        still(), situation=Situation.PRESS_BREAK, spot=Spot("baseline", "right", 3.0, far=True),
        phases=(Phase("p", "Up", actions),), looks=(Look("l", "2", "3", "c3"),),
    )  # fmt: skip
    places = ((3.0, 28.3), (4.0, 21.0), (-5.0, 18.0), (5.0, 10.0), (-6.0, 4.0))
    starts = tuple(
        replace(start, at=Point(*at)) for start, at in zip(play.starts, places, strict=True)
    )
    return replace(play, starts=starts)


def test_the_ball_has_to_be_over_the_centre_line_in_time() -> None:
    assert not found(check(press_break(1.0), age=AgeGroup.U14), "backcourt_count")
    (eight,) = found(check(press_break(7.0), age=AgeGroup.U14), "backcourt_count")
    assert "28.1" in eight.source
    ten = check(press_break(7.0), age=AgeGroup.U14, rule_set=RuleSet.NFHS)
    assert not found(ten, "backcourt_count")  # ten seconds there
    assert found(
        check(press_break(10.0), age=AgeGroup.U14, rule_set=RuleSet.NFHS), "backcourt_count"
    )


def test_a_look_that_is_gone_by_its_turn_is_past_and_no_look_that_is_there() -> None:
    """2 flashes and is fresh for a moment; the passer looks for 5 first, who comes later."""
    flash = cut("flash", "2", (3.0, 6.5))
    late = cut("late", "5", (3.0, 9.0), cues=(Cue(Moment.SIGNAL, wait=1.8),))
    play = replace(
        still(),
        phases=(Phase("p", "Flash", (flash, late)),),
        looks=(Look("first", "1", "5", "late"), Look("second", "1", "2", "flash")),
    )
    report = check(play, age=AgeGroup.U14)
    assert report.verdicts[1].word is Word.PAST
    assert not report.verdicts[1].there
    assert [finding.look for finding in found(report, "look_past")] == ["second"]


def test_one_late_look_of_several_is_a_warning_and_a_late_first_look_is_serious() -> None:
    slow = cut("slow", "5", (3.0, 9.0), cues=(Cue(Moment.SIGNAL, wait=5.5),))
    play = still()
    phases = (replace(play.phases[0], actions=(*play.phases[0].actions, slow)),)
    looks = (*play.looks, Look("slow", "1", "5", "slow"))
    (late,) = found(
        check(replace(play, phases=phases, looks=looks), age=AgeGroup.U14), "count_over"
    )
    assert (late.look, late.severity) == ("slow", "warning")
    first = replace(play, phases=phases, looks=looks[::-1])
    (late,) = found(check(first, age=AgeGroup.U14), "count_over")
    assert (late.look, late.severity) == ("slow", "serious")


def test_the_remedy_names_the_read_along_the_chain() -> None:
    """5 waits until 4 is done, who waits for nobody: going as 4 starts is sooner."""
    four = cut("c4", "4", (4.0, 12.0))
    five = cut("c5", "5", (3.0, 9.5), cues=(after(Moment.END, "c4", 1.5),))
    play = still()
    phases = (replace(play.phases[0], actions=(*play.phases[0].actions, four, five)),)
    play = replace(play, phases=phases, looks=(*play.looks, Look("l5", "1", "5", "c5")))
    line = timeline(play, U14)
    read = quicker_read(line, line.window("l5"))
    assert read is not None
    assert (read.who, read.other) == ("5", "4")
    moved = replace(five, cues=(after(Moment.START, "c4", 1.5),))
    tried = replace(play, phases=(replace(phases[0], actions=(*phases[0].actions[:-1], moved)),))
    gained = line.window("l5").earliest - timeline(tried, U14).window("l5").earliest
    assert read.gain == pytest.approx(gained)
    (late,) = found(check(play, age=AgeGroup.U14), "count_tight") or found(
        check(play, age=AgeGroup.U14), "count_over"
    )
    assert late.remedy.startswith("Let the 5 go as the 4 starts")


def test_a_screen_used_too_wide_is_told() -> None:
    wide = cut("c2", "2", (4.6, 2.6), (5.8, 6.6), cues=(on_set("s4"),))
    down = screen("s4", "4", "2", (2.9, 4.4))
    looks = (Look("l", "1", "2", "c2"),)
    play = replace(box(), phases=(Phase("p1", "Wide", (down, wide)),), looks=looks)
    (finding,) = found(check(play, age=AgeGroup.U14), "screen_wide")
    assert finding.roles == ("2", "4")


def test_a_plays_verdict_covers_its_counters_by_their_own_looks_only() -> None:
    slow = cut("c2b", "3", (-7.0, 0.6), cues=(Cue(Moment.SIGNAL, wait=6.0),))
    counter = Counter(
        "c", Defence.SAG, "p1", "They sag.", looks=(Look("x", "1", "3", "c2b"),), add=(slow,)
    )
    plain = check(still(), age=AgeGroup.U14)
    report = check(replace(still(), counters=(counter,)), age=AgeGroup.U14)
    mine = [finding for finding in report.findings if finding.counter == "c"]
    assert {"count_over"} <= {finding.code for finding in mine}
    assert all(finding.look in ("x", None) for finding in mine)
    others = [finding for finding in report.findings if finding.counter is None]
    assert [f.code for f in others] == [f.code for f in plain.findings]
    (verdict,) = report.counters
    assert [each.look for each in verdict.verdicts] == ["x"]
    assert verdict.tactic is Tactic.SAG
