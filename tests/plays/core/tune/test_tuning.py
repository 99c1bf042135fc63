"""Tuning held against trying everything, against its own limits, and against plays with a fault
put into them on purpose."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from functools import cache
from itertools import product
from math import dist

import pytest

from plays.core.check.check import check
from plays.core.court.courts import court
from plays.core.defence.stance import Tactic
from plays.core.defence.verdict import Word
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import ActionKind, Cue, Moment, Play, Point
from plays.core.tune.changes import (
    Change,
    Plan,
    Shift,
    Subject,
    Waiting,
    applied,
    change_from_json,
    plan_of,
)
from plays.core.tune.gain import Compared, Effect, Gain, Reason, compared
from plays.core.tune.limits import FARTHEST, TuningLimits
from plays.core.tune.options import Options, crowded, line_of_starts, options
from plays.core.tune.search import NOTHING, Found, Search
from plays.core.tune.tune import Tuned, TuningQuestion, tune
from plays.core.tune.words import told, why
from plays.core.tune.worth import Judge, costs
from plays.core.words.speaker import Voice
from shared.core.finding import Severity
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO

PLAYS = {play.key: play for play in DEMO}
SMALL = TuningLimits(start=0.25, screen=0.25, wait=0.0, reads=False)
TOLERANCE = 0.02  # seconds: no more than what one change has to bring in


def judge_of(play: Play) -> Judge:
    return Judge(pace_of(play.level), {}, tuple(look.id for look in play.looks))


def searched(play: Play, choices: Options, budget: int = 2400, seed: int = 0) -> Found:
    return Search(play, play.level, choices, judge_of(play), budget, seed).run()


def in_all(play: Play, choices: Options) -> dict[Plan, float]:
    """What every combination of the choices is worth, by the rules that the search has."""
    judge = judge_of(play)
    rules = Search(play, play.level, choices, judge, budget=10**9)
    rules.begin()
    plans = [
        plan_of(change for change in chosen if change is not None)
        for chosen in product(*((None, *changes) for changes in choices.values()))
    ]
    return {plan: rules.weighed(plan) for plan in plans}


@pytest.mark.parametrize(
    ("key", "subjects"),
    [
        ("oar-rack", (("screen", "four-steps"), ("start", "4"))),
        ("tow-rope", (("screen", "two-backs"), ("start", "5"))),
    ],
)
def test_trying_everything_on_a_small_grid_finds_nothing_better(
    key: str, subjects: tuple[Subject, ...]
) -> None:
    play = PLAYS[key]
    found = options(play, SMALL)
    choices = {subject: found[subject] for subject in subjects}
    everything = in_all(play, choices)
    assert len(everything) >= 9
    best = max(everything.values())
    assert searched(play, choices).after >= best - TOLERANCE


FAULTS: dict[str, tuple[str, Change]] = {
    "a screen set three quarters of a metre beside the way": (
        "duckboard",
        Shift("screen", "four-screens", 3, 0),
    ),
    "a screen set too low": ("night-ferry", Shift("screen", "four-first", 0, -3)),
    "a cutter who leaves a second and a half late": (
        "oar-rack",
        Waiting("five-turns", (Cue(Moment.START, "three-corner", None, 1.5),)),
    ),
}


@cache
def mended(fault: str) -> tuple[Play, Play, Tuned]:
    """(the play as it was, with the fault, tuned)."""
    key, spoilt = FAULTS[fault]
    play = replace(PLAYS[key], defenders=())
    bad = applied(play, (spoilt,))
    asked = TuningQuestion(TuningLimits(start=0.25, screen=0.75, wait=0.5), play.level)
    return play, bad, tune(bad, asked, pace_of(play.level), budget=700, drawn=128)


@pytest.mark.parametrize("fault", FAULTS)
def test_a_play_with_a_known_fault_gets_better(fault: str) -> None:
    play, bad, tuned = mended(fault)
    judge = judge_of(play)
    good, before, after = (judge.firm(each).worth for each in (play, bad, tuned.play))
    assert before < good - 0.15  # it is a fault
    # Not all of it: no look may pay for another, and one of them gains by the fault.
    assert after > before + 0.2 * (good - before)
    assert tuned.compared.gain.better >= 0.6


TWO_FAULTS: dict[str, tuple[str, Change, Change]] = {
    "a screen set late, and a screener who steps out late: over the count twice": (
        "duckboard",
        Waiting("four-screens", (Cue(Moment.SIGNAL, wait=1.5),)),
        Waiting("four-steps-out", (Cue(Moment.PASSES, "three-cuts", 0, 1.5),)),
    ),
    "a screen set beside the way, and a cutter who leaves late": (
        "duckboard",
        Shift("screen", "four-screens", 3, 0),
        Waiting("three-cuts", (Cue(Moment.SET, "four-screens", wait=1.5),)),
    ),
    "a screen set too low, and another one set late": (
        "night-ferry",
        Shift("screen", "four-first", 0, -3),
        Waiting("three-crosses", (Cue(Moment.SIGNAL, wait=1.7),)),
    ),
    "two cutters who leave late": (
        "oar-rack",
        Waiting("five-turns", (Cue(Moment.START, "three-corner", wait=1.5),)),
        Waiting("four-wing", (Cue(Moment.START, "three-corner", wait=2.0),)),
    ),
}


@pytest.mark.parametrize("faults", TWO_FAULTS)
def test_of_two_faults_both_are_mended_and_not_the_worse_alone(faults: str) -> None:
    """Better than the play would be with either of the two faults taken back, and sure of it."""
    key, *spoilt = TWO_FAULTS[faults]
    play = replace(PLAYS[key], defenders=())
    judge, bad = judge_of(play), applied(play, tuple(spoilt))
    with_one = [judge.firm(applied(play, (fault,))).worth for fault in spoilt]
    assert judge.firm(bad).worth < min(with_one) + TOLERANCE  # each of them is a fault
    asked = TuningQuestion(TuningLimits(start=0.25, screen=0.75, wait=1.0), play.level)
    tuned = tune(bad, asked, pace_of(play.level), budget=700, drawn=128)
    assert judge.firm(tuned.play).worth > max(with_one)
    assert len(tuned.plan) >= 2
    gain = tuned.compared.gain
    assert 0 < gain.low <= gain.median <= gain.high
    assert gain.better >= 0.95


@pytest.mark.parametrize("fault", FAULTS)
def test_what_is_changed_stays_within_the_limits(fault: str) -> None:
    _play, bad, tuned = mended(fault)
    for old, new in zip(bad.starts, tuned.play.starts, strict=True):
        assert dist(old.at, new.at) <= 0.25 + 1e-9
        assert old.role != bad.thrower or old == new
    for before, after in zip(bad.actions(), tuned.play.actions(), strict=True):
        if before.kind is ActionKind.SCREEN:
            moved = [dist(a, b) for a, b in zip(before.path, after.path, strict=True)]
            assert max(moved, default=0.0) <= 0.75 + 1e-9
        else:
            assert before.path == after.path
        longest = max((cue.wait for cue in before.cues), default=0.0) + 0.5
        assert all(cue.wait <= longest + 1e-9 for cue in after.cues)
    assert (tuned.play.looks, tuned.play.counters) == (bad.looks, bad.counters)


@pytest.mark.parametrize("fault", FAULTS)
def test_nothing_is_found_against_it_that_was_not_there(fault: str) -> None:
    _play, bad, tuned = mended(fault)

    def against(play: Play) -> int:
        findings = check(play, age=play.level).findings
        return sum(each.severity is Severity.SERIOUS for each in findings)

    assert against(tuned.play) <= against(bad)


def test_every_change_says_which_look_it_helps_or_that_it_helps_with_others() -> None:
    *_, tuned = mended("a screen set too low")
    assert len(tuned.effects) == len(tuned.plan) > 0
    known = {look.id for look in tuned.play.looks}
    for effect in tuned.effects:
        assert effect.look in known if effect.seconds > 0 else effect.reason == "together"
        assert Effect.from_json(effect.to_json()).look == effect.look


def test_the_bands_before_and_after_are_kept_as_they_were_drawn() -> None:
    play, bad, tuned = mended("a screen set too low")
    found = compared(bad, tuned.play, judge_of(play), count=4)
    kept = Compared.from_json(json.loads(json.dumps(found.to_json())))
    for now, then in ((kept.before, found.before), (kept.after, found.after)):
        assert now.keys() == then.keys()
        for tactic, bands in then.items():
            medians = [band.median for band in now[tactic]]
            assert medians == pytest.approx([band.median for band in bands], abs=0.005)
            assert [each.look for each in now[tactic]] == [look.id for look in play.looks]


@pytest.mark.parametrize("fault", FAULTS)
def test_no_look_pays_for_another(fault: str) -> None:
    play, bad, tuned = mended(fault)
    before, after = (judge_of(play).firm(each) for each in (bad, tuned.play))
    assert not after.spoils(before)
    assert before.spoils(after)


def test_whose_part_is_fixed_is_told_nothing_new() -> None:
    play = PLAYS["sluice"]
    found = options(play, TuningLimits(fixed=frozenset(("1", "5"))))
    roles = {action.id: action.role for action in play.actions()}
    whose = {id_ if what == "start" else roles[id_] for what, id_ in found}
    assert whose
    assert not whose & {"1", "5"}


def test_four_in_a_line_stay_in_their_line() -> None:
    for play in DEMO:
        axis = line_of_starts(play)
        changes = [each for found in options(play, TuningLimits()).values() for each in found]
        starts = [each for each in changes if isinstance(each, Shift) and each.what == "start"]
        if axis is not None:
            assert all((each.up if axis == "x" else each.right) == 0 for each in starts)
    assert any(line_of_starts(play) for play in DEMO)
    assert any(line_of_starts(play) is None for play in DEMO)


def test_nobody_starts_on_top_of_somebody_else() -> None:
    play = PLAYS["harbour-light"]
    four, five = play.start_of("4"), play.start_of("5")
    steps = Shift("start", "4", round((five.x - four.x) / 0.25), round((five.y - four.y) / 0.25))
    assert crowded(play, applied(play, (steps,)))
    assert not crowded(play, play)


def test_the_same_question_has_the_same_answer() -> None:
    play = PLAYS["night-ferry"]
    choices = options(play, TuningLimits(start=0.25))
    one, other = (searched(play, choices, budget=250) for _ in range(2))
    assert one == other


def test_a_search_that_is_stopped_brings_home_what_it_has() -> None:
    play = PLAYS["night-ferry"]
    told: list[float] = []

    def until_half(share: float) -> bool:
        told.append(share)
        return share < 0.5

    search = Search(
        play, play.level, options(play, TuningLimits()), judge_of(play), 400, tell=until_half
    )
    found = search.run()
    assert found.stopped
    assert told == sorted(told)
    assert found.after >= found.before


def test_nothing_to_choose_from_changes_nothing() -> None:
    play = PLAYS["night-ferry"]
    found = searched(play, {})
    assert (found.plan, found.after) == ((), found.before)


def test_a_version_that_spoils_a_look_is_no_version() -> None:
    play = PLAYS["oar-rack"]
    late = Waiting("three-corner", (Cue(Moment.SIGNAL, wait=2.0),))
    rules = Search(play, play.level, {late.subject: (late,)}, judge_of(play))
    rules.begin()
    assert rules.weighed((late,)) == NOTHING


def test_changes_can_be_written_down_and_taken_back_one_by_one() -> None:
    shift = Shift("start", "4", -1, 2)
    wait = Waiting("five-turns", (Cue(Moment.SIGNAL, wait=0.5),))
    for change in (shift, wait):
        assert change_from_json(change.to_json()) == change
    play = PLAYS["oar-rack"]
    assert applied(play, ()) == play
    moved = applied(play, (shift,)).start_of("4")
    assert dist(moved, play.start_of("4")) == pytest.approx(shift.metres)
    assert costs((shift, wait)) > costs((shift,)) > 0


def test_limits_are_written_down_and_bounded() -> None:
    limits = TuningLimits(0.25, 1.0, 0.5, reads=False, fixed=frozenset(("2",)))
    assert TuningLimits.from_json(limits.to_json()) == limits
    with pytest.raises(ValueError, match="places move"):
        TuningLimits(start=FARTHEST + 0.25)


@pytest.mark.parametrize("key", ["sluice", "gangway"])
def test_every_place_that_is_tried_lies_on_the_floor(key: str) -> None:
    play = PLAYS[key]
    places: dict[str, Point] = {start.role: start.at for start in play.starts}
    places |= {action.id: action.path[-1] for action in play.actions() if action.path}
    floor = court(play.court)
    moved = [each for tried in options(play, SMALL).values() for each in tried]
    shifts = [each for each in moved if isinstance(each, Shift)]
    assert shifts
    for shift in shifts:
        at = shift.moved(places[shift.id])
        assert abs(at.x) < floor.half_width
        assert 0.0 < at.y < floor.length


def test_a_look_that_loses_its_word_is_spoiled_though_the_worst_one_is_as_good() -> None:
    play = PLAYS["sluice"]
    judge = judge_of(play)
    (before,) = judge.judged([play])
    assert before is not None
    assert not judge.spoils(before, before)
    first = before[0]
    for k, verdict in enumerate(first):
        if verdict.word is Word.OPEN:
            lost = (*first[:k], replace(verdict, word=Word.COVERED), *first[k + 1 :])
            after = (lost, *before[1:])
            if judge.worst(after) == judge.worst(before):
                assert judge.spoils(before, after)
                return
    pytest.fail("the play has no look that is open and not its worst")


def test_a_reason_says_both_figures_of_its_effect() -> None:
    play = PLAYS["sluice"]
    line = timeline(play, pace_of(play.level))
    effect = Effect(Reason.SOONER, play.looks[0].id, seconds=0.25, by=0.4)
    said = why(line, effect, Voice(ENGLISH))
    assert "gains 0.25 s" in said
    assert re.search(r"there 0[.]40? s sooner", said)


def test_a_moved_start_is_told_with_where_it_was() -> None:
    play = PLAYS["oar-rack"]
    line = timeline(play, pace_of(play.level))
    effect = Effect(Reason.SOONER, play.looks[0].id)
    (change,) = told(play, (Shift("start", "4", 2, -1),), (effect,), line, Voice(ENGLISH))
    ways = "half a metre nearer the middle and a quarter of a metre nearer the baseline"
    assert change.now == f"The 4 starts {ways}."
    at = next(start.at for start in play.starts if start.role == "4")
    assert at.x < 0  # so that to the right is nearer the middle


def test_effects_and_gains_come_back_from_json_in_milliseconds() -> None:
    effect = Effect(Reason.HELD, "lob", Tactic.SWITCH, 0.12345, 0.54321, "5", "4")
    written = json.loads(json.dumps(effect.to_json()))
    assert (written["seconds"], written["by"]) == (0.123, 0.543)
    assert Effect.from_json(written) == replace(effect, seconds=0.123, by=0.543)
    gain = Gain(0.25, -0.125, 0.5, 0.875)
    assert Gain.from_json(json.loads(json.dumps(gain.to_json()))) == gain
