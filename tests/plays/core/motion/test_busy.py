"""One role asked for two things at once: the second follows, and is told."""

from __future__ import annotations

from plays.core.editing.apply import applied
from plays.core.editing.commands import Act, SetCue
from plays.core.motion.busy import asked_while_busy
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import ActionKind, Cue, Moment, Play
from tests.plays.core.editing.test_editing import at, box


def two() -> Play:
    """The 5 screens for the 4, and is given a cut besides."""
    return applied(box(), Act("entry", "5", ActionKind.CUT, at("right corner")))


def early(play: Play) -> frozenset[str]:
    return asked_while_busy(timeline(play, pace_of(play.level)))


def test_another_action_is_the_next_one_and_loses_nothing() -> None:
    play = two()
    assert [each.id for each in play.actions() if each.role == "5"] == ["5-screen", "5-cut"]
    spans = timeline(play, pace_of(play.level)).spans
    assert spans["5-cut"].start >= (spans["5-screen"].set or 9)
    assert early(play) == frozenset()


def test_an_action_that_is_asked_for_meanwhile_is_named_and_begins_after() -> None:
    play = applied(two(), SetCue("5-cut", Cue(Moment.SIGNAL)))
    spans = timeline(play, pace_of(play.level)).spans
    assert spans["5-cut"].start >= (spans["5-screen"].set or 9)
    assert early(play) == {"5-cut"}


def test_with_a_wait_that_is_long_enough_nothing_is_named() -> None:
    assert early(applied(two(), SetCue("5-cut", Cue(Moment.SIGNAL, wait=5.0)))) == frozenset()
    assert early(applied(two(), SetCue("5-cut", Cue(Moment.END, "4-cut")))) == frozenset()


def test_a_cue_on_the_throw_in_counts_from_its_catch() -> None:
    waits = applied(two(), SetCue("5-cut", Cue(Moment.BALL_IN, wait=5.0)))
    assert early(waits) == frozenset()


def test_a_cue_on_the_start_of_another_counts_from_there() -> None:
    """The 4 starts once the 5 is set, and the 5 itself long before."""
    assert early(applied(two(), SetCue("5-cut", Cue(Moment.START, "5-screen")))) == {"5-cut"}
    assert early(applied(two(), SetCue("5-cut", Cue(Moment.START, "4-cut", wait=1.0)))) == set()
