"""A shot after a look, against the seconds for which a play is meant.

The game clock starts when the ball is touched on the court (FIBA 2024, article 49.2, from memory),
so the shot after a look that brings the ball in costs the catch and the shot alone.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.check.check import check
from plays.core.check.last_shot import clock_used
from plays.core.drawing.phase import diagram
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.motion.timeline import SHOT
from plays.core.play import AgeGroup, Conditions, Play
from shared.core.drawing.svg import svg_text
from tests.plays.core.samples import box, down_screen

U16 = pace_of(AgeGroup.U16)


def shooting(play: Play, *which: int) -> Play:
    """The play in which those who catch these looks shoot."""
    looks = tuple(replace(look, shot=n in which) for n, look in enumerate(play.looks))
    return replace(play, looks=looks)


def left(play: Play, seconds: float) -> Play:
    return replace(play, conditions=Conditions(seconds_left_from=seconds))


def codes(play: Play) -> list[str | None]:
    return [f.look for f in check(play, age=AgeGroup.U16).findings if f.code == "shot_late"]


def test_the_clock_runs_from_the_catch_of_the_throw_in() -> None:
    line = timeline(shooting(down_screen(), 0, 1), U16)
    assert [clock_used(line, window) for window in line.windows] == pytest.approx([SHOT, SHOT])


def test_a_shot_that_needs_more_than_is_left_is_found_at_its_look() -> None:
    play = shooting(down_screen(), 1)
    assert codes(left(play, SHOT - 0.1)) == ["dive"]
    assert codes(left(play, SHOT)) == []
    assert codes(play) == []
    assert codes(left(down_screen(), SHOT - 0.1)) == []  # nobody said that anybody shoots


def test_every_one_who_shoots_after_a_look_has_one_arrow_to_the_ring() -> None:
    drawn = svg_text(diagram(shooting(box(), 0, 1), "p1"), prefix="x")
    plain = svg_text(diagram(box(), "p1"), prefix="x")
    assert drawn.count(".shot") == len({box().looks[0].receiver, box().looks[1].receiver})
    assert ".shot" not in plain
