"""The check as a whole: codes, severities, remedies that mend, words, JSON, properties."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plays.core.check.check import (
    Fix,
    PlayFinding,
    Report,
    Severity,
    Tactic,
    apply_remedy,
    check,
    check_many,
)
from plays.core.check.remedy import rounded_up
from plays.core.check.samples import sampled
from plays.core.defence.verdict import Word
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import AgeGroup, Cue, Look, Moment, Phase, Point, RuleSet, Spot
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.samples import box, cut, mirrored, on_set, still, with_cues


def found(report: Report, code: str) -> list[PlayFinding]:
    return [finding for finding in report.findings if finding.code == code]


def test_worst_first_then_by_time() -> None:
    report = check(with_cues(box(), "c2", Cue(Moment.SIGNAL)), age=AgeGroup.U12)
    ranks = [list(Severity).index(finding.severity) for finding in report.findings]
    assert ranks == sorted(ranks)
    assert report.worst is Severity.SERIOUS
    assert not report.runnable


def test_a_cutter_who_does_not_wait_is_found_and_the_remedy_mends_it() -> None:
    early = with_cues(box(), "c2", Cue(Moment.SIGNAL))
    (finding,) = found(check(early, age=AgeGroup.U14), "cutter_early")
    assert finding.roles == ("2", "4")
    assert finding.basis == "computed"
    assert finding.fix is not None
    assert finding.remedy == "Let the 2 wait until the 4 is set."
    assert finding.fix.until == "s4"
    mended = apply_remedy(early, finding.fix)
    report = check(mended, age=AgeGroup.U14)
    assert not found(report, "cutter_early")
    assert not found(report, "screen_moving")


def test_one_wait_flips_the_finding() -> None:
    """From too early through still moving to right: the same cutter, waiting longer."""
    codes = []
    for wait in (0.0, 1.0, 1.2, 2.0):
        report = check(with_cues(box(), "c2", Cue(Moment.SIGNAL, wait=wait)), age=AgeGroup.U14)
        mine = [f.code for f in report.findings if f.code in ("cutter_early", "screen_moving")]
        codes.append(mine[0] if mine else "")
    assert codes[0] == "cutter_early"
    assert codes[-1] == ""
    assert codes.index("") > codes.index("cutter_early")


def test_a_screen_set_as_the_cutter_comes_cites_the_book_of_the_rule_set() -> None:
    line = check(box(), age=AgeGroup.U14).line
    span = line.spans["s4"]
    move = line.move("c2")
    assert move is not None
    along, _ = move.run.path.nearest(complex(3.0, 3.6))
    wait = (span.arrive + (span.set or 0.0)) / 2 - move.run.when(along) - 0.66
    moving = with_cues(box(), "c2", Cue(Moment.SIGNAL, wait=round(wait, 2)))
    for rule_set, book in (
        (RuleSet.FIBA, "33.7"),
        (RuleSet.NFHS, "4-40"),
        (RuleSet.NBA, "12B-III"),
    ):
        (finding,) = found(check(moving, age=AgeGroup.U14, rule_set=rule_set), "screen_moving")
        assert finding.basis == "rule"
        assert book in finding.source


def test_late_looks_name_the_seconds_and_the_article() -> None:
    report = check(box(), age=AgeGroup.U10)
    late = found(report, "count_over")
    assert late
    assert all("17.3.1" in finding.source for finding in late)  # FIBA: five seconds to release
    for finding in late:
        window = report.line.window(finding.look or "")
        assert f"{window.earliest:.1f}".rstrip("0").rstrip(".") in finding.sentence
        assert window.earliest > 5.0


@pytest.mark.parametrize(
    ("rule_set", "article"),
    [(RuleSet.FIBA, "17.3.1"), (RuleSet.NFHS, "7-6-2"), (RuleSet.NBA, "8-III")],
)
def test_the_count_is_five_in_every_book(rule_set: RuleSet, article: str) -> None:
    """FIBA 17.3.1, NFHS 7-6-2 and 9-2-4, NBA 8-III: five seconds to the release."""
    report = check(box(), age=AgeGroup.U10, rule_set=rule_set)
    over = found(report, "count_over")
    assert over
    assert all(article in finding.source for finding in over)


def test_waiting_less_mends_the_count() -> None:
    slow = with_cues(still(3.0), "c2", Cue(Moment.SIGNAL, wait=4.0))
    (finding,) = found(check(slow, age=AgeGroup.U14), "count_over")
    assert finding.fix is not None
    assert finding.fix.later < 0
    report = check(apply_remedy(slow, finding.fix), age=AgeGroup.U14)
    assert not found(report, "count_over")
    assert not found(report, "count_none")


def test_a_receiver_who_has_run_on_is_never_there() -> None:
    """2 flashes at once and runs on; the ball is brought in to 5 first, and comes too late."""
    flash = cut("flash", "2", (0.5, 3.5))
    on = cut("on", "2", (-6.0, 3.0), cues=(Cue(Moment.END, "flash", wait=0.2),))
    feed = Look("feed", "5", "2", "flash")
    play = replace(
        still(),
        phases=(Phase("p", "Flash", (flash, on, cut("to5", "5", (4.0, 9.0)))),),
        looks=(Look("in", "1", "5", "to5"), feed),
    )
    (finding,) = found(check(play, age=AgeGroup.U14), "look_gone")
    assert finding.look == "feed"
    assert finding.roles == ("2",)


def test_never_a_three_second_finding() -> None:
    """FIBA 26.1.1, NFHS 9-7 note, NBA 10-VI: no count in the lane before the first touch."""
    play = still()
    camped = replace(
        play,
        starts=tuple(
            replace(start, at=Point(0.5, 3.0)) if start.role == "5" else start
            for start in play.starts
        ),
    )
    for rule_set in RuleSet:
        report = check(camped, age=AgeGroup.U14, rule_set=rule_set)
        assert not [f for f in report.findings if "three" in f.code or "lane_time" in f.code]
        assert not [f for f in report.findings if "3 s" in f.sentence]


def test_a_look_that_comes_too_late_in_the_order_is_swapped() -> None:
    play = box()
    more = cut("d2", "2", (-2.0, 8.0))
    phases = (play.phases[0], replace(play.phases[1], actions=(*play.phases[1].actions, more)))
    play = replace(play, phases=phases, looks=(play.looks[3], play.looks[1]))
    (finding,) = found(check(play, age=AgeGroup.U14), "look_order")
    assert finding.fix == Fix(looks=("l2", "l4"))
    mended = apply_remedy(play, finding.fix)
    assert [look.id for look in mended.looks] == ["l2", "l4"]
    assert not found(check(mended, age=AgeGroup.U14), "look_order")


def test_names_and_numbers_stand_in_the_sentences() -> None:
    early = with_cues(box(), "c2", Cue(Moment.SIGNAL))
    report = check(early, age=AgeGroup.U14, names={"2": "Ida"})
    (finding,) = found(report, "cutter_early")
    assert "Ida (2)" in finding.sentence
    assert "the 4" in finding.sentence


def test_everything_has_a_remedy_and_says_what_it_rests_on() -> None:
    for age in AgeGroup:
        for finding in check(box(), age=age, defence=Tactic.SWITCH).findings:
            assert finding.sentence
            assert finding.remedy
            assert finding.source
            assert finding.sentence[0].isupper()


def test_a_report_is_plain_values() -> None:
    report = check(box(), age=AgeGroup.U12)
    again = json.loads(json.dumps(report.to_json()))
    assert again["play"] == "box"
    assert len(again["looks"]) == len(box().looks)
    assert again["findings"][0]["severity"] == report.worst


def test_margins_are_told_by_the_moment_of_the_throw() -> None:
    """Pairs of seconds and margin, none before the look can be thrown."""
    report = check(box(), age=AgeGroup.U12)
    for look in report.to_json()["looks"]:
        moments = [moment for moment, _ in look["margins"]]
        assert moments == sorted(moments)
        assert moments[0] >= look["earliest"] - 0.011
        assert max(margin for _, margin in look["margins"]) == look["best_margin"]


def test_who_waits_for_nothing_is_not_told_to_wait_less() -> None:
    """20 m take a 14-year-old to the last half second: a shorter way is all that helps."""
    (finding,) = found(check(still(20.0), age=AgeGroup.U14), "count_tight")
    assert finding.fix is None
    assert "wait" not in finding.remedy
    assert "nearer" in finding.remedy


def test_past_five_a_book_says_so_and_the_last_half_second_is_a_rule_of_thumb() -> None:
    (tight,) = found(check(still(20.0), age=AgeGroup.U14), "count_tight")
    assert tight.basis == "house"
    assert "17.3.1" not in tight.source
    over = found(check(box(), age=AgeGroup.U10), "count_over")
    assert {finding.basis for finding in over} == {"rule"}


def test_a_nearer_start_by_the_metres_told_mends_the_count() -> None:
    (finding,) = found(check(still(20.0), age=AgeGroup.U14), "count_tight")
    (metres,) = re.findall(r"([0-9.]+) m nearer", finding.remedy)
    assert not found(check(still(20.0 - float(metres)), age=AgeGroup.U14), "count_tight")
    assert found(check(still(20.0 - float(metres) / 2), age=AgeGroup.U14), "count_tight")


def test_the_ball_is_at_the_chest_until_it_is_thrown() -> None:
    """The breastbone lies at 0.72 of a person's height: Drillis and Contini 1966, after Winter
    2009, Fig. 4.1 (from memory: shoulder 0.82, elbow 0.63)."""
    for age in (AgeGroup.U10, AgeGroup.ADULT):
        line = timeline(still(), pace_of(age))
        data = sampled(line)
        release = min(each["release"] for each in data["flights"])
        high = [z for n, z in enumerate(data["ball"][2::3]) if n / data["hz"] < release]
        assert high
        assert all(0.63 < z / line.pace.height < 0.82 for z in high)


def test_fix_comes_back_from_json() -> None:
    for fix in (Fix(action="c2", later=0.6), Fix(looks=("l2", "l1"))):
        assert Fix.from_json(json.loads(json.dumps(fix.to_json()))) == fix
    broken: list[dict[str, object]] = [
        {},
        {"action": 3, "later": 0, "looks": []},
        {"action": None, "later": "x", "looks": []},
    ]
    for bad in broken:
        with pytest.raises(ValueError, match="remedy"):
            Fix.from_json(bad)


def test_a_remedy_for_another_play_is_refused() -> None:
    with pytest.raises(ValueError, match="no action"):
        apply_remedy(box(), Fix(action="nobody", later=1.0))
    with pytest.raises(ValueError, match="other looks"):
        apply_remedy(box(), Fix(looks=("l1",)))


def test_an_action_without_a_cue_gets_one_with_the_wait() -> None:
    later = apply_remedy(box(), Fix(action="s4", later=0.4))
    assert later.actions()[0].cues == (Cue(Moment.SIGNAL, wait=0.4),)
    follower = apply_remedy(box(), Fix(action="r4", later=0.4))
    (cue,) = next(a for a in follower.actions() if a.id == "r4").cues
    assert (cue.on, cue.action, cue.wait) == (Moment.END, "s4", 0.4)


def test_many_checks_are_the_single_ones() -> None:
    many = check_many(
        box(), ages=(AgeGroup.U12, AgeGroup.U16), defences=(Tactic.CHASE, Tactic.SWITCH)
    )
    assert len(many) == 4
    single = check(box(), age=AgeGroup.U16, defence=Tactic.SWITCH)
    assert many[AgeGroup.U16, Tactic.SWITCH].findings == single.findings


def test_own_paces_count() -> None:
    slow = {"2": replace(pace_of(AgeGroup.U14), top_speed=4.0)}
    report = check(box(), age=AgeGroup.U14, paces=slow)  # type: ignore[arg-type]
    plain = check(box(), age=AgeGroup.U14)
    assert report.line.window("l2").earliest > plain.line.window("l2").earliest


@settings(deadline=None, max_examples=25)
@given(st.floats(-1.0, 1.0), st.sampled_from(list(AgeGroup)))
def test_mirrored_plays_have_the_same_findings(shift: float, age: AgeGroup) -> None:
    play = with_cues(box(), "c2", Cue(Moment.SIGNAL, wait=1.0 + shift))
    other = replace(mirrored(play), spot=Spot("sideline", "left", 8.325))
    here = [(f.code, f.severity, f.roles) for f in check(play, age=age).findings]
    there = [(f.code, f.severity, f.roles) for f in check(other, age=age).findings]
    assert here == there


@settings(deadline=None, max_examples=15)
@given(st.sampled_from(list(AgeGroup)), st.floats(0.7, 1.0))
def test_finer_sampling_changes_no_finding(age: AgeGroup, effort: float) -> None:
    """Findings of time come from closed forms; only words at the edge of a margin may differ."""
    from plays.core.defence.verdict import How, against
    from plays.core.motion.clock import timeline

    line = timeline(box(), pace_of(age, effort))
    fine = How(step=0.01, points=64)
    (coarse,), (finer,) = against([line], [Tactic.CHASE]), against([line], [Tactic.CHASE], how=fine)
    for one, other in zip(coarse, finer, strict=True):
        near_edge = min(abs(one.margin - edge) for edge in (0.1, 0.3)) < 0.02
        assert one.word == other.word or near_edge


def test_tenths_are_rounded_up() -> None:
    assert rounded_up(0.31) == 0.4
    assert rounded_up(0.3) == 0.3


def test_a_wait_on_the_set_leaves_nothing_to_find() -> None:
    right = with_cues(box(), "c2", on_set("s4"))
    codes = {f.code for f in check(right, age=AgeGroup.U14).findings}
    assert not codes & {"cutter_early", "screen_moving", "screen_outside", "screen_left"}


def test_the_seconds_of_the_remedy_are_enough_and_hardly_more_than_needed() -> None:
    """Waiting so long is right; a sixth of a second less is still too early."""
    early = with_cues(box(), "c2", Cue(Moment.SIGNAL))
    (finding,) = found(check(early, age=AgeGroup.U14), "cutter_early")
    assert finding.fix is not None
    for wait, right in ((finding.fix.later, True), (finding.fix.later - 0.16, False)):
        report = check(with_cues(box(), "c2", Cue(Moment.SIGNAL, wait=wait)), age=AgeGroup.U14)
        mine = [f for f in report.findings if f.code in ("cutter_early", "screen_moving")]
        assert (not mine) == right


@pytest.mark.parametrize("tactic", Tactic)
def test_a_hopeful_guess_and_a_defence_that_takes_everything_are_told(tactic: Tactic) -> None:
    """By what the table of looks says: covered, and nothing there that is in time."""
    told = 0
    for play in DEMO[:12]:
        sure = replace(play, looks=tuple(replace(look, guess=0.9) for look in play.looks))
        report = check(sure, age=play.level, defence=tactic)
        in_time = [each for each in report.verdicts if each.in_time]
        covered = {each.look for each in in_time if each.word is Word.COVERED}
        hopeful = [each for each in report.findings if each.code == "guess_high"]
        assert {each.look for each in hopeful} >= covered
        nothing = bool(in_time) and not any(each.there for each in in_time)
        assert bool(found(report, "nothing_open")) >= nothing
        told += bool(covered)
        humble = replace(play, looks=tuple(replace(look, guess=0.5) for look in play.looks))
        assert not found(check(humble, age=play.level, defence=tactic), "guess_high")
    assert told


def test_a_finding_repeats_of_the_table_only_what_the_play_hangs_on() -> None:
    """That a look is covered stands in the table of looks; a finding says it of the first look,
    and of one that a read decides on, once each."""
    covered = told = 0
    for play in DEMO:
        for tactic in (Tactic.CHASE, Tactic.SWITCH, Tactic.SAG, Tactic.ZONE):
            report = check(play, age=play.level, defence=tactic)
            taken = [v for v in report.verdicts if v.in_time and v.word is Word.COVERED]
            hangs = {v.look for v in taken if v.window.index == 0 or v.window.look.read}
            mine = [f for f in found(report, "look_covered") if not (f.counter or f.variant)]
            said = [finding.look for finding in mine]
            assert len(said) == len(set(said))
            assert set(said) <= hangs
            covered, told = covered + len(taken), told + len(said)
    assert 0 < told < covered
