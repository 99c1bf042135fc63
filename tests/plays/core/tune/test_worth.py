"""A play whose cues go round in a circle is worth nothing, and spoils no other's judgement."""

from __future__ import annotations

import pytest

from plays.core.motion.pace import pace_of
from plays.core.play import Moment, Play
from plays.core.tune.changes import Waiting
from plays.core.tune.gain import effects
from plays.core.tune.limits import TuningLimits
from plays.core.tune.options import options
from plays.core.tune.search import Search
from plays.core.tune.worth import WORTHLESS, Judge
from tests.plays.core.samples import after, box, with_cues

JUDGE = Judge(pace_of(box().level), {}, tuple(look.id for look in box().looks))


def circle() -> Play:
    """The 2 waits until the 3 is done, and the 3 until the 2 is."""
    play = with_cues(box(), "c2", after(Moment.END, "c3"))
    return with_cues(play, "c3", after(Moment.END, "c2"))


def test_a_circle_among_others_has_no_verdicts_and_leaves_theirs_alone() -> None:
    alone = JUDGE.judged([box()])
    assert alone[0] is not None
    assert JUDGE.judged([circle(), box(), circle()]) == [None, alone[0], None]
    assert JUDGE.judged([circle(), circle()]) == [None, None]
    assert JUDGE.firm(circle()) == WORTHLESS


def test_a_circle_cannot_be_tuned_and_a_plan_that_makes_one_has_no_effects() -> None:
    found = Search(circle(), box().level, options(box(), TuningLimits()), JUDGE)
    with pytest.raises(ValueError, match="circle"):
        found.begin()
    into = Waiting("c3", (after(Moment.END, "c2"),))
    half = with_cues(box(), "c2", after(Moment.END, "c3"))
    assert effects(half, (into,), JUDGE) == ()


def waits_offered(wait: float, longer: float) -> set[float]:
    """The waits that may be tried for a cut that waits this long after a screen."""
    play = with_cues(box(), "c3", after(Moment.SET, "s5", wait))
    found = options(play, TuningLimits(start=0.0, screen=0.0, wait=longer, reads=False))
    changes = [change for group in found.values() for change in group]
    return {
        cue.wait
        for change in changes
        if isinstance(change, Waiting) and change.action == "c3"
        for cue in change.cues
    }


@pytest.mark.parametrize(
    ("wait", "longer", "offered"),
    [
        (0.0, 0.5, {0.5}),
        (0.0, 1.0, {0.5, 1.0}),
        (0.5, 0.5, {0.0, 1.0}),
        (0.2, 0.5, {0.0, 0.5}),  # nobody counts in tenths
        (1.0, 0.4, {0.0, 0.5}),
        (1.5, 0.0, {0.0, 0.5, 1.0}),
    ],
)
def test_waits_are_tried_by_half_seconds_up_to_so_much_more(
    wait: float, longer: float, offered: set[float]
) -> None:
    assert waits_offered(wait, longer) == offered
