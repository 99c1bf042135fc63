"""Tuning one of a play's calls: what is found on it stands in the play's one document."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.motion.pace import pace_of
from plays.core.moves.variants import all_calls
from plays.core.play import Play, Swap, Variant
from plays.core.tune.calls import TunedCall
from plays.core.tune.changes import Shift, applied, plan_of
from plays.core.tune.limits import TuningLimits
from plays.core.tune.options import options
from plays.core.tune.search import NOTHING, Search
from plays.core.tune.tune import TuningQuestion, tune
from plays.core.tune.worth import Judge
from tests.plays.core.demo_plays import DEMO

PLAYS = {play.key: play for play in DEMO}
SAME_JOBS = Variant("Far", mirror=True)
THEIR_STARTS = Variant("Three", swaps=(Swap("2", "3"),))
OWN_STARTS = Variant("Own", swaps=(Swap("2", "3", stay=True),), mirror=True)


def with_calls(key: str, *variants: Variant) -> Play:
    return replace(PLAYS[key], defenders=(), variants=variants)


@pytest.mark.parametrize("call", [0, 1, 2, 3])
def test_a_plan_of_a_call_is_that_plan_when_the_call_is_run(call: int) -> None:
    document = with_calls("tidegate", SAME_JOBS, THEIR_STARTS, OWN_STARTS)
    tuned = TunedCall(document, call)
    found = options(tuned.play, TuningLimits())
    plans = [
        plan_of(changes[k % len(changes)] for changes in found.values())
        for k in range(max(map(len, found.values())))
    ]
    assert any(isinstance(each, Shift) and each.right for plan in plans for each in plan)
    for plan in plans:
        run = all_calls(tuned.written(plan))[call]
        assert replace(run, origin=None) == replace(applied(tuned.play, plan), origin=None)
        assert tuned.written(plan).variants == document.variants


def test_a_call_that_moves_the_same_people_alike_is_not_weighed_twice() -> None:
    document = with_calls("tidegate", SAME_JOBS, THEIR_STARTS, OWN_STARTS)
    assert [play.call for play in TunedCall(document).beside()] == ["Three", "Own"]
    assert [play.call for play in TunedCall(document, 1).beside()] == ["Three", "Own"]
    assert [play.call for play in TunedCall(document, 2).beside()] == [document.call, "Own"]


def test_no_look_of_another_call_pays_for_the_one_that_is_tuned() -> None:
    other = Variant("Own", swaps=(Swap("2", "3", stay=True),))
    paid = (Shift("screen", "four-steps", -1, 1),)  # found by trying: good for the first call alone
    alone, both = (with_calls("oar-rack", *calls) for calls in ((), (other,)))
    judge = Judge(pace_of(alone.level), {}, tuple(look.id for look in alone.looks))
    worth = []
    for document in (alone, both):
        rules = Search(document, document.level, {}, judge, budget=10**9)
        rules.begin()
        worth.append(rules.weighed(paid))
    assert worth[0] > NOTHING
    assert worth[1] == NOTHING


def test_a_further_call_is_tuned_in_the_document_of_the_play() -> None:
    document = with_calls("duckboard", OWN_STARTS)
    asked = TuningQuestion(TuningLimits(start=0.5, screen=0.25, wait=0.0), document.level, call=1)
    tuned = tune(document, asked, pace_of(document.level), budget=400, drawn=32)
    assert tuned.plan
    assert tuned.play == TunedCall(document, 1).written(tuned.plan)
    judge = Judge(pace_of(document.level), {}, tuple(look.id for look in document.looks))
    before, after = (judge.firm(all_calls(play)[1]) for play in (document, tuned.play))
    assert after.worth > before.worth
    for was, now in zip(all_calls(document), all_calls(tuned.play), strict=True):
        assert not judge.firm(now).spoils(judge.firm(was))


def test_a_question_keeps_its_call_and_one_of_before_means_the_first() -> None:
    asked = TuningQuestion(TuningLimits(), PLAYS["sluice"].level, call=2)
    kept = asked.to_json()
    assert TuningQuestion.from_json(kept) == asked
    del kept["call"]
    assert TuningQuestion.from_json(kept).call == 0
