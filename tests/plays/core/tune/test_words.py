"""A change that tuning proposes, in words: what is done now, and what was done before."""

from __future__ import annotations

import pytest

from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import Cue, Moment, Play
from plays.core.tune.changes import Change, Shift, Waiting
from plays.core.tune.gain import Effect, Reason
from plays.core.tune.tune import plan_from_json
from plays.core.tune.words import ToldChange, told
from plays.core.words.speaker import Voice
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.samples import after, box, on_set

TOGETHER = Effect(Reason.TOGETHER)


def said(play: Play, change: Change) -> ToldChange:
    line = timeline(play, pace_of(play.level))
    (found,) = told(play, (change,), (TOGETHER,), line, Voice(ENGLISH))
    return found


@pytest.mark.parametrize(
    ("cue", "moments"),
    [
        (Cue(Moment.SIGNAL), "on the signal"),
        (Cue(Moment.BALL_IN), "once the throw-in is caught"),
        (on_set("s5"), "as soon as the 5 is set"),
        (after(Moment.START, "c3"), "as the 3 starts"),
        (after(Moment.END, "c3"), "once the 3 is done"),
        (after(Moment.END, "s4"), "straight after the step before"),
        (on_set("s5", 0.5), "as soon as the 5 is set, and about half a second later"),
        (on_set("s5", 2.0), "as soon as the 5 is set, and about two seconds later"),
    ],
)
def test_a_cue_is_told_by_what_is_seen(cue: Cue, moments: str) -> None:
    change = said(box(), Waiting("r4", (cue,)))
    assert change.now == f"The 4 goes to the near block {moments}."
    assert change.before == "So far: straight after the step before."
    assert change.why == "It helps only together with the other changes."


def test_two_cues_are_told_as_one_list_and_the_written_one_as_it_is() -> None:
    change = said(box(), Waiting("c2", (on_set("s4"), on_set("s5"))))
    assert change.now.endswith("as soon as the 4 is set and as soon as the 5 is set.")
    assert change.before == "So far: as soon as the 4 is set."


def test_a_screen_is_told_as_one() -> None:
    now = said(box(), Waiting("s5", (Cue(Moment.SIGNAL),))).now
    assert now == "The 5 screens a step above the far block and a step inside on the signal."


def test_a_step_without_a_way_goes_on() -> None:
    """Who shoots, passes or holds stays where they are; a pass that is waited for is caught."""
    plays = {play.key: play for play in DEMO}
    waiting = [
        (play, action, other)
        for play in plays.values()
        for action in play.actions()
        for other in play.actions()
        if not action.path and other.to and other.role != action.role
    ]
    play, action, other = waiting[0]
    change = said(play, Waiting(action.id, (after(Moment.END, other.id),)))
    assert change.now == f"The {action.role} goes on once the pass of the {other.role} is caught."


def test_a_screen_that_is_set_elsewhere_says_for_whom_and_where_it_was() -> None:
    change = said(box(), Shift("screen", "s4", 1, 3))
    assert change.now == (
        "The 4 sets the screen for the 2 a quarter of a metre nearer the sideline and three"
        " quarters of a metre higher up the floor."
    )
    assert change.before == "So far: a step below the near mid-post and a step outside."


@pytest.mark.parametrize(
    ("quarters", "words"),
    [
        (-1, "a quarter of a metre nearer the baseline"),
        (2, "half a metre higher up the floor"),
        (-4, "one metre nearer the baseline"),
        (5, "1.25 m higher up the floor"),
    ],
)
def test_a_way_is_told_in_quarters_of_a_metre(quarters: int, words: str) -> None:
    assert said(box(), Shift("start", "4", 0, quarters)).now == f"The 4 starts {words}."


def test_a_plan_comes_back_from_what_is_stored() -> None:
    plan = (Shift("start", "4", 2, -1), Waiting("c2", (on_set("s4", 0.25), Cue(Moment.SIGNAL))))
    assert plan_from_json([change.to_json() for change in plan]) == plan
