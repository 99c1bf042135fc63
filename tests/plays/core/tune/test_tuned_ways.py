"""Tuning knows every way of a play: a look in a rotation that is kept for another look, too.

Held against the check, which judges such looks by a path of its own.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from plays.core.check.check import check
from plays.core.check.remedy import implied_cue
from plays.core.defence.verdict import Verdict, Word
from plays.core.motion.pace import pace_of
from plays.core.play import ActionKind, Cue, Cut, Moment, Play, Point, Role, ScreenStyle
from plays.core.tune.limits import TuningLimits
from plays.core.tune.options import options
from plays.core.tune.tune import TuningQuestion, tune
from plays.core.tune.worth import TACTICS, Judge
from tests.plays.core.demo_plays import DEMO

OTHERS: frozenset[Role] = frozenset({"1", "2", "3", "5"})
TIDE = replace(next(play for play in DEMO if play.key == "tidegate"), defenders=())


def judge_of(play: Play) -> Judge:
    return Judge(pace_of(play.level), {}, tuple(look.id for look in play.looks))


def of_look(play: Play, look: str) -> list[Verdict]:
    """By the check: against each of the two defences."""
    reports = (check(play, age=play.level, defence=tactic) for tactic in TACTICS)
    return [next(v for v in report.verdicts if v.look == look) for report in reports]


def late_screen(up: float) -> Play:
    """After the look into the corner 4 screens for 5 and 5 cuts off it, ``up`` metres up."""
    *others, last = TIDE.phases
    screen = {"kind": ActionKind.SCREEN, "cut": None, "cutter": "5", "screen": ScreenStyle.OTHER}
    changed: dict[str, dict[str, Any]] = {
        "4-cut-2": {**screen, "path": (Point(-1.5, up),)},
        "5-cut-2": {
            "path": (Point(0.6, 2.2),),
            "cut": Cut.STRAIGHT,
            "cues": (Cue(Moment.SET, "4-cut-2"),),
        },
    }
    actions = (replace(each, **changed.get(each.id, {})) for each in last.actions)
    return replace(TIDE, phases=(*others, replace(last, actions=tuple(actions))), counters=())


def test_every_look_is_weighed_as_the_check_judges_it() -> None:
    (found,) = judge_of(TIDE).judged([TIDE])
    assert found is not None
    for tactic, verdicts in zip(TACTICS, found, strict=True):
        report = check(TIDE, age=TIDE.level, defence=tactic)
        assert {v.look for v in verdicts} == {look.id for look in TIDE.looks}
        ours = {v.look: v for v in verdicts}
        for theirs in report.verdicts:
            assert ours[theirs.look].word is theirs.word
            assert ours[theirs.look].margin == pytest.approx(theirs.margin, abs=0.05)


def test_a_screen_of_a_further_way_is_put_where_it_helps_its_look() -> None:
    bad, good = late_screen(3.75), late_screen(4.5)
    assert of_look(good, "block")[0].margin > of_look(bad, "block")[0].margin + 0.3
    limits = TuningLimits(start=0.0, screen=0.75, wait=0.0, reads=False, fixed=OTHERS)
    asked = TuningQuestion(limits, bad.level, looks=("block",))
    found = tune(bad, asked, pace_of(bad.level), budget=250, drawn=32)
    assert ("screen", "4-cut-2") in {change.subject for change in found.plan}
    assert {effect.look for effect in found.effects} >= {"block"}
    for before, after in zip(of_look(bad, "block"), of_look(found.play, "block"), strict=True):
        assert after.margin > before.margin + 0.1


def test_what_spoils_the_look_of_a_further_way_is_no_version() -> None:
    (good,) = judge_of(TIDE).judged([TIDE])
    (bad,) = judge_of(TIDE).judged([late_screen(3.75)])
    assert good is not None
    assert bad is not None
    assert bad[0][-1].word is Word.COVERED
    assert bad[0][:3] != ()
    assert judge_of(TIDE).spoils(good, bad)


def test_nothing_waits_for_what_only_another_way_brings() -> None:
    """Neither by a read that is tried, nor by what an action without a cue waits for."""
    play, (inside, block) = late_screen(4.5), TIDE.phases[2:]
    only_inside = {action.id for action in inside.actions}
    limits = TuningLimits(start=0.0, screen=0.0, wait=0.5)
    of_block = {action.id for action in block.actions}
    for (what, id_), changes in options(play, limits).items():
        if what == "wait" and id_ in of_block:
            cues = {cue.action for change in changes for cue in getattr(change, "cues", ())}
            assert not cues & only_inside
    for action in play.phases[3].actions:
        assert implied_cue(play, replace(action, cues=())).action not in only_inside
