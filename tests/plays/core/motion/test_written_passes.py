"""Passes that a play writes down: when the throw-in is over, and who waits for whom.

A ball is not caught before the receiver is where it goes, and nothing that waits for the ball
to be in begins before it is: first principles, with places and times of the two people.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.motion.timeline import Flight, Timeline
from plays.core.play import Action, ActionKind, AgeGroup, Cue, Moment, Phase, Play
from tests.plays.core.samples import cut, still, throw

U14 = pace_of(AgeGroup.U14)


def brought_in(*more: Action, path: tuple[tuple[float, float], ...] = ((0.0, 8.0),)) -> Play:
    """The thrower throws to 2, told by nothing but the signal; 2 cuts first."""
    come = cut("come", "2", *path)
    ball = throw("in", "1", "2", cues=(Cue(Moment.SIGNAL),))
    return replace(still(), phases=(Phase("p", "In", (come, ball, *more)),), looks=())


def flight(line: Timeline, source: str) -> Flight:
    (found,) = (each for each in line.flights if each.source == source)
    return found


def test_a_written_throw_in_is_over_when_it_is_caught() -> None:
    line = timeline(brought_in(cut("go", "3", (-6.0, 4.0), cues=(Cue(Moment.BALL_IN),))), U14)
    ball = flight(line, "in")
    assert line.ball_in == ball.catch == line.spans["in"].end
    assert ball.catch > ball.release
    # 3 sees the catch, and goes after the time in which a team-mate's move is read.
    assert line.spans["go"].start == pytest.approx(ball.catch + U14.read)
    assert "go" in line.after_in


def test_a_wait_for_the_end_of_the_throw_in_is_a_wait_for_the_catch() -> None:
    end = cut("go", "3", (-6.0, 4.0), cues=(Cue(Moment.END, "in"),))
    line = timeline(brought_in(end), U14)
    assert line.spans["go"].start == pytest.approx(flight(line, "in").catch + U14.read)
    assert line.after_in == {"go"}


@pytest.mark.parametrize("path", [((0.0, 8.0),), ((-6.0, 1.0), (6.0, 9.0))])
def test_a_pass_waits_for_its_receiver(path: tuple[tuple[float, float], ...]) -> None:
    """The signal alone would let it go at once: 2 is still on the way then."""
    line = timeline(brought_in(path=path), U14)
    ball, run = flight(line, "in"), line.move("come")
    assert run is not None
    there = run.start + run.run.seconds
    assert ball.target == pytest.approx(complex(*path[-1]))
    assert ball.catch >= there - 1e-9
    assert abs(line.tracks["2"].at(ball.catch) - ball.target) < 1e-6
    assert ball.release > U14.signal + U14.release  # later than the thrower alone could
    # Led, but not by more than the ball flies.
    assert there - ball.throw.seconds - 1e-9 <= ball.release <= there


def test_a_pass_to_one_who_stands_goes_when_the_thrower_is_ready() -> None:
    ball = throw("in", "1", "3", cues=(Cue(Moment.SIGNAL),))
    line = timeline(replace(still(), phases=(Phase("p", "In", (ball,)),), looks=()), U14)
    made = flight(line, "in")
    assert made.release == pytest.approx(U14.signal + U14.release)
    assert made.catch == pytest.approx(made.release + made.throw.seconds)


def test_a_pass_written_before_its_receivers_later_run_does_not_wait_for_it() -> None:
    late = cut("late", "2", (-5.0, 9.0), cues=(Cue(Moment.END, "in"),))
    line = timeline(brought_in(late), U14)
    assert flight(line, "in").catch < line.spans["late"].start
    assert flight(line, "in").target == pytest.approx(8j)


def test_a_pass_waits_for_a_receiver_who_waits_for_somebody_written_later() -> None:
    come = cut("come", "2", (0.0, 8.0), cues=(Cue(Moment.END, "first"),))
    ball = throw("in", "1", "2", cues=(Cue(Moment.SIGNAL),))
    first = cut("first", "3", (-5.0, 4.0))
    play = replace(still(), phases=(Phase("p", "In", (come, ball, first)),), looks=())
    line = timeline(play, U14)
    made, run = flight(line, "in"), line.move("come")
    assert run is not None
    assert run.start >= line.spans["first"].end
    assert made.target == pytest.approx(8j)
    assert made.catch >= run.start + run.run.seconds - 1e-9


def test_the_end_of_a_stand_is_when_the_role_goes_on() -> None:
    """4 stands until 3 is there and goes then; 5, who waits for the end of it, reads that."""
    actions = (
        cut("first", "3", (-5.0, 4.0)),
        Action("stand", "4", ActionKind.HOLD),
        cut("go", "4", (-4.0, 8.0), cues=(Cue(Moment.END, "first"),)),
        cut("then", "5", (2.0, 9.0), cues=(Cue(Moment.END, "stand"),)),
    )
    line = timeline(replace(still(), phases=(Phase("p", "Go", actions),), looks=()), U14)
    assert line.spans["go"].start > line.spans["first"].end
    assert line.spans["then"].start == pytest.approx(line.spans["go"].start + U14.read)
