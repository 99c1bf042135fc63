"""A gate opens for a cutter and is closed behind: its posts leave as they should, and come late.

Two posts stand until the cutter is through, then close in front of the chaser: common practice.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.check.check import Report, apply_remedy, check
from plays.core.play import AgeGroup, Cue, Joint, JointShape, Moment, Play
from tests.plays.core.samples import after, box, cut, on_set, with_action, with_cues


def joined(play: Play, screen: str, joint: Joint | None) -> Play:
    (action,) = (each for each in play.actions() if each.id == screen)
    return with_action(play, replace(action, joint=joint))


def codes(play: Play) -> set[str]:
    return {f.code for f in report(play).findings if f.action == "s4" or "2" in f.roles}


def report(play: Play) -> Report:
    return check(play, age=AgeGroup.U14)


def left_early() -> Play:
    """4 is off as soon as the screen is set; 2 comes a good while later."""
    play = with_cues(box(), "c2", Cue(Moment.SET, "s4", wait=1.5))
    (phase, *more) = play.phases
    off = cut("off", "4", (0.0, 8.0), cues=(after(Moment.SET, "s4"),))
    kept = tuple(each for each in phase.actions if each.role != "4" or each.id == "s4")
    return replace(
        play, phases=(replace(phase, actions=(*kept, off)), *more), looks=(), counters=()
    )


@pytest.mark.parametrize(
    ("joint", "told"),
    [
        (None, True),
        (Joint("pair", JointShape.DOUBLE), True),
        (Joint("door", JointShape.GATE), False),
    ],
)
def test_only_a_post_of_a_gate_may_leave_before_the_cutter_comes(
    joint: Joint | None, told: bool
) -> None:
    assert ("screen_left" in codes(joined(left_early(), "s4", joint))) is told


def test_the_remedy_for_leaving_early_keeps_the_screener_there() -> None:
    (finding,) = (f for f in report(left_early()).findings if f.code == "screen_left")
    assert finding.fix is not None
    assert finding.fix.later > 0.0
    assert "screen_left" not in codes(apply_remedy(left_early(), finding.fix))


@pytest.mark.parametrize(("part", "told"), [("open", True), ("close", False)])
def test_only_what_opens_has_to_be_set_before_the_cutter(part: str, told: bool) -> None:
    early = with_cues(box(), "c2", Cue(Moment.SIGNAL))
    joint = Joint("door", JointShape.GATE, part)  # type: ignore[arg-type]
    found = codes(joined(early, "s4", joint))
    assert bool(found & {"cutter_early", "screen_moving"}) is told
    right = codes(joined(with_cues(box(), "c2", on_set("s4")), "s4", joint))
    assert not right & {"cutter_early", "screen_moving"}
