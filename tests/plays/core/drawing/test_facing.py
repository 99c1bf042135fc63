"""Where somebody looks as a play starts: common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coachbook.demo.files import demo_play
from plays.core.drawing.facing import quarters
from plays.core.moves.moves import mirror
from plays.core.play import Play, Point, Spot, Start


def with_spot(spot: Spot | None) -> Play:
    return replace(demo_play("gangway"), spot=spot)


@pytest.mark.parametrize(
    ("spot", "turn"),
    [
        (Spot("sideline", "right", 8.0), 1),  # looks to the left of who faces the basket
        (Spot("sideline", "left", 8.0), 3),
        (Spot("baseline", "left", 3.0), 2),  # the basket is behind
        (Spot("baseline", "left", 3.0, far=True), 0),
    ],
)
def test_the_thrower_looks_into_the_court(spot: Spot, turn: int) -> None:
    play = with_spot(spot)
    assert play.thrower
    assert quarters(play, play.thrower) == turn


def test_everybody_else_looks_at_the_ball() -> None:
    play = demo_play("gangway")
    assert play.thrower
    ball = play.start_of(play.ball)
    for place, turn in (
        (Point(ball.x - 6, ball.y + 1), 3),
        (Point(ball.x + 6, ball.y - 1), 1),
        (Point(ball.x + 1, ball.y + 6), 0),
        (Point(ball.x - 1, ball.y - 6), 2),
    ):
        starts = tuple(Start("5", place) if s.role == "5" else s for s in play.starts)
        assert quarters(replace(play, starts=starts), "5") == turn


def test_mirrored_the_sides_swap() -> None:
    play = demo_play("gangway")
    assert play.thrower
    assert {quarters(play, play.thrower), quarters(mirror(play), play.thrower)} == {1, 3}


@pytest.mark.parametrize(
    ("place", "turn"),
    [
        (Point(0.0, 9.0), 0),  # the basket is up the picture
        (Point(-6.0, 2.0), 3),
        (Point(6.0, 2.0), 1),
        (Point(0.5, 0.2), 2),  # under the board, the ring is behind
    ],
)
def test_who_begins_with_the_ball_in_play_looks_at_the_basket(place: Point, turn: int) -> None:
    play = replace(demo_play("gangway"), thrower=None, spot=None, ball="1")
    starts = tuple(Start("1", place) if s.role == "1" else s for s in play.starts)
    assert quarters(replace(play, starts=starts), "1") == turn
