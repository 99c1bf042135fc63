"""What a search pays for is the work that it has done, so that "so much work" is the same
everywhere; and it is for the looks that were asked for."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Mapping
from typing import Any

import pytest

from plays.core.check.check import check
from plays.core.motion.pace import Pace, pace_of
from plays.core.play import AgeGroup, Role
from plays.core.tune import search, tune
from plays.core.tune.limits import TuningLimits
from plays.core.tune.options import options
from plays.core.tune.search import A_CHECK, Search
from plays.core.tune.tune import TuningQuestion
from plays.core.tune.worth import PROOF, Judge
from tests.plays.core.demo_plays import DEMO

PLAYS = {play.key: play for play in DEMO}
LIMITS = TuningLimits(start=0.25, screen=0.25, wait=0.0, reads=False)


def counting(
    done: Counter[str], name: str, work: Callable[..., Any], much: Callable[..., int]
) -> Callable[..., Any]:
    def counted(*args: Any, **more: Any) -> Any:
        done[name] += much(*args)
        return work(*args, **more)

    return counted


@pytest.mark.parametrize("budget", [30, 150])
def test_what_is_spent_is_what_was_done(budget: int, monkeypatch: pytest.MonkeyPatch) -> None:
    done: Counter[str] = Counter()
    play = PLAYS["oar-rack"]
    assert not play.variants
    asked = Search(
        play,
        play.level,
        options(play, LIMITS),
        Judge(pace_of(play.level), {}, tuple(look.id for look in play.looks)),
        budget,
    )
    one: Callable[..., int] = lambda *_args: 1  # noqa: E731
    weighed = counting(done, "weighed", Judge.judged, lambda _judge, plays: len(plays))
    monkeypatch.setattr(Judge, "judged", weighed)
    monkeypatch.setattr(Judge, "firm", counting(done, "firm", Judge.firm, one))
    monkeypatch.setattr(search, "check", counting(done, "checked", check, one))
    found = asked.run()
    # The play as it is, weighed twice and checked before the search begins, is not paid for.
    work = Counter(done) - Counter(weighed=1, firm=1, checked=1)
    assert found.spent == work["weighed"] + PROOF * work["firm"] + A_CHECK * work["checked"]
    assert found.spent >= budget
    assert work["checked"] >= (budget > 100)


@pytest.mark.parametrize("wanted", [(), (0,), (1,)])
def test_the_looks_that_were_asked_for_are_those_that_count(
    wanted: tuple[int, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    play = PLAYS["oar-rack"]
    ids = tuple(look.id for look in play.looks)
    assert len(ids) > 1
    asked = TuningQuestion(LIMITS, AgeGroup.U14, tuple(ids[place] for place in wanted))
    counted: list[tuple[str, ...]] = []

    def judge(base: Pace, paces: Mapping[Role, Pace], looks: tuple[str, ...]) -> Judge:
        counted.append(looks)
        return Judge(base, paces, looks)

    monkeypatch.setattr(tune, "Judge", judge)
    tune.tune(play, asked, pace_of(play.level), budget=1, drawn=2)
    assert counted == [asked.looks or ids]


def test_a_question_is_kept_as_it_was_asked() -> None:
    asked = TuningQuestion(LIMITS, AgeGroup.U14, ("corner", "post"), call=2)
    assert TuningQuestion.from_json(json.loads(json.dumps(asked.to_json()))) == asked
