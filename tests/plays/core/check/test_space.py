"""Room on the floor, and passes for the age group. Rules of thumb of ours say so."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import pytest

from plays.core.check.check import PlayFinding, check
from plays.core.check.throws import longest_lob
from plays.core.defence.verdict import CONTESTED, Tactic, Word
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.motion.throw import throw
from plays.core.play import (
    Action,
    ActionKind,
    AgeGroup,
    Counter,
    Cue,
    Defence,
    Look,
    Moment,
    PassKind,
    Phase,
    Play,
)
from tests.plays.core.check.test_rules import starting
from tests.plays.core.samples import box, cut, still


def found(play: Play, code: str, age: AgeGroup = AgeGroup.U16) -> list[PlayFinding]:
    return [finding for finding in check(play, age=age).findings if finding.code == code]


def running(*actions: Action, looks: tuple[Look, ...] = ()) -> Play:
    return replace(still(), phases=(Phase("p1", "Run", actions),), looks=looks or still().looks[:0])


def test_a_path_through_a_team_mate() -> None:
    through = running(cut("a", "3", (-1.0, 5.0)), cut("b", "2", (0.5, 4.0)))
    blocked = starting(through, r5=(-4.0, 2.9))
    (finding,) = found(blocked, "run_into")
    assert finding.roles == ("3", "5")
    assert finding.basis == "house"
    assert not found(starting(through, r5=(-4.0, 7.0)), "run_into")


def test_screener_and_cutter_may_brush() -> None:
    assert not [f for f in found(box(), "run_into") if set(f.roles) in ({"2", "4"}, {"3", "5"})]


def test_standing_close_together_is_no_collision() -> None:
    close = starting(running(cut("b", "2", (0.5, 4.0))), r4=(-4.0, 5.0), r5=(-4.0, 5.3))
    assert not found(close, "run_into")


def test_somebody_in_the_lane() -> None:
    play = still()
    (finding,) = found(starting(play, r5=(6.5, 8.3)), "lane_crowded")
    assert finding.roles == ("5", "2")
    assert finding.look == "l1"
    lob = replace(play, looks=(replace(play.looks[0], pass_kind=PassKind.LOB),))
    assert not found(starting(lob, r5=(6.5, 8.3)), "lane_crowded")
    assert not found(play, "lane_crowded")


def test_a_pass_to_where_the_passer_stands_crosses_nobody() -> None:
    """A receiver who runs into the thrower is told so, and the pass between them has no line."""
    onto = replace(still(), phases=(Phase("p1", "Cut", (cut("c2", "2", (7.8, 8.325)),)),))
    assert found(onto, "run_into")
    assert not found(starting(onto, r5=(7.8, 8.325)), "lane_crowded")


@pytest.mark.parametrize(("apart", "held"), [(1.0, True), (6.0, False)])
def test_two_receivers_whom_one_defender_holds(apart: float, held: bool) -> None:
    play = running(
        cut("a", "2", (3.0, 6.0)),
        cut("b", "5", (3.0 - apart, 6.0)),
        looks=(Look("l1", "1", "2", "a"), Look("l2", "1", "5", "b")),
    )
    assert bool(found(play, "one_holds_both")) is held


def test_receivers_who_catch_one_after_the_other_are_not_held_by_one() -> None:
    late = (Cue(Moment.SIGNAL, wait=2.5),)
    play = running(
        cut("a", "2", (3.0, 6.0)),
        cut("b", "5", (2.0, 6.0), cues=late),
        looks=(Look("l1", "1", "2", "a"), Look("l2", "1", "5", "b")),
    )
    windows = {w.look.id: w for w in timeline(play, pace_of(AgeGroup.U16)).windows}
    assert windows["l1"].latest < windows["l2"].earliest
    assert not found(play, "one_holds_both")


def test_somebody_who_does_nothing() -> None:
    idle = {finding.roles for finding in found(still(), "idle")}
    assert idle == {("3",), ("4",), ("5",)}
    held = running(cut("b", "2", (0.5, 4.0)), Action("h", "3", ActionKind.HOLD))
    assert ("3",) in {finding.roles for finding in found(held, "idle")}


def test_pass_longer_than_the_age_group_throws() -> None:
    far = starting(still(), r2=(-4.0, 3.0))
    far = replace(far, phases=(Phase("p", "Cut", (cut("c2", "2", (-3.2, 8.3)),)),))
    (finding,) = found(far, "pass_long", AgeGroup.U10)
    assert "11 m long" in finding.sentence
    assert "6.5 m" in finding.sentence
    assert not found(far, "pass_long", AgeGroup.ADULT)


def test_a_catch_nearer_by_the_metres_told_is_short_enough() -> None:
    def caught_at(x: float) -> list[PlayFinding]:
        far = replace(still(), phases=(Phase("p", "Cut", (cut("c2", "2", (x, 8.325)),)),))
        return found(far, "pass_long", AgeGroup.U10)

    (finding,) = caught_at(-3.2)
    (metres,) = re.findall(r"([0-9.]+) m", finding.remedy)
    assert not caught_at(-3.2 + float(metres))
    assert caught_at(-3.2 + float(metres) - 0.2)


def test_hands_that_do_not_meet() -> None:
    """Common practice: a hand-off is from hand to hand, at most an arm's length of each apart."""

    def handed(metres: float) -> list[PlayFinding]:
        x, y = still().start_of("1")
        give = Action("give", "1", ActionKind.HANDOFF, to="2")
        near = starting(running(give), r2=(x + metres, y))
        return found(replace(near, spot=None, thrower=None, ball="1"), "hands_apart")

    (finding,) = handed(2.5)
    assert finding.roles == ("1", "2")
    assert finding.action == "give"
    assert "2.5 m apart" in finding.sentence
    (metres,) = re.findall(r"([0-9.]+) m", finding.remedy)
    assert not handed(2.5 - float(metres))
    assert handed(2.5 - float(metres) + 0.2)
    assert not handed(1.0)


def test_a_lob_that_the_arm_cannot_throw() -> None:
    play = replace(still(2.0), looks=(Look("l1", "1", "2", "c2", PassKind.LOB),))
    (finding,) = found(play, "lob_cannot_clear", AgeGroup.U10)
    assert finding.severity == "serious"
    assert not found(play, "lob_cannot_clear", AgeGroup.ADULT)


def test_the_longest_lob_is_the_one_at_the_limit_of_the_arm() -> None:
    for age in (AgeGroup.U12, AgeGroup.ADULT):
        pace = pace_of(age)
        most = longest_lob(pace, pace)
        arc = throw(PassKind.LOB, most, pace, pace).arc
        assert arc is not None
        assert arc.speed == pytest.approx(pace.arm_speed, abs=0.01)


def test_a_counter_without_a_look_is_found() -> None:
    hopeless = Counter(
        "c", Defence.DENY, "p1", "They deny.", looks=(Look("x", "1", "3", "c2b"),),
        add=(cut("c2b", "3", (-7.0, 0.6)),),
    )  # fmt: skip
    play = replace(still(), counters=(hopeless,))
    report = check(play, age=AgeGroup.U12)
    (verdict,) = report.counters
    assert verdict.tactic is Tactic.DENY
    assert not verdict.helps
    (finding,) = (f for f in report.findings if f.code == "counter_idle")
    assert verdict.given_margin is not None
    short = math.ceil(10 * (CONTESTED - verdict.given_margin) - 1e-9) / 10
    assert f"{short:.1f} s more" in finding.remedy
    assert finding.sentence == (
        "When they deny the pass, the counter gives no look that is open or contested at its turn."
    )


def test_a_counter_whose_look_never_comes_in_time_is_told_no_number() -> None:
    """The passer has given the ball away before the receiver is there: nothing to measure."""
    late = Counter(
        "c", Defence.DENY, "p1", "They deny.", looks=(Look("x", "1", "3", "late"),),
        add=(
            Action("in", "1", ActionKind.PASS, to="2"),
            cut("late", "3", (-4.0, 6.0), (-7.0, 0.6), (-4.0, 6.0), (-7.0, 0.6)),
        ),
    )  # fmt: skip
    report = check(replace(still(), counters=(late,)), age=AgeGroup.U12)
    (verdict,) = report.counters
    assert [each.word for each in verdict.verdicts] == [Word.NOT_YET]
    assert verdict.given_margin is None
    (finding,) = (f for f in report.findings if f.code == "counter_idle")
    assert finding.sentence == "When they deny the pass, no look of the counter is there in time."
    assert not re.search(r"\d", finding.sentence + finding.remedy)


def test_a_counter_that_helps_is_no_finding() -> None:
    away = Counter(
        "c", Defence.DENY, "p1", "They deny: over the top.",
        looks=(Look("x", "1", "2", "back", PassKind.LOB),),
        remove=("c2",), add=(cut("up", "2", (4.4, 7.6)), cut("back", "2", (2.0, 3.0))),
    )  # fmt: skip
    play = starting(still(), r2=(2.5, 7.0))
    play = replace(play, phases=(Phase("p1", "Up", (cut("c2", "2", (4.8, 7.8)),)),))
    report = check(replace(play, counters=(away,)), age=AgeGroup.U16)
    (verdict,) = report.counters
    assert verdict.lost == ("l1",)
    assert verdict.given == ("x",)
    assert verdict.helps
    assert not [f for f in report.findings if f.code == "counter_idle"]
