"""What one possession tells about each look of its play."""

from __future__ import annotations

from dataclasses import replace

from coachbook.demo.files import demo_play
from plays.core.defence.stance import Tactic
from plays.core.play import Defence, DefenceRead, Look, Play
from practice.core.learning.order import LookEvidence, LookOrder, LookPlace, evidence, order_of
from practice.core.reps.called import CalledPlay, CallResult, Take
from tests.practice.core.learning.seasons import in_a_row, possession


def told(order: LookOrder, one: CalledPlay) -> tuple[set[str], set[str]]:
    found = evidence(order, one)
    return set(found.there), set(found.absent)


def with_looks(*looks: Look) -> Play:
    return replace(demo_play("gangway"), looks=looks)


def test_looks_before_the_one_taken_were_not_there_and_later_ones_were_not_seen() -> None:
    order = in_a_row(0.5, 0.5, 0.5)
    assert told(order, possession(look="2")) == ({"2"}, {"1"})
    assert told(order, possession(look="1")) == ({"1"}, set())
    assert told(order, possession(taken=Take.NONE)) == (set(), {"1", "2", "3"})


def test_a_play_that_broke_says_nothing_of_its_looks() -> None:
    lost = possession(taken=Take.BROKEN, result=CallResult.TURNOVER)
    assert evidence(in_a_row(0.5, 0.5), lost) == LookEvidence()


def test_a_look_that_the_state_of_the_play_does_not_have_says_nothing() -> None:
    assert evidence(in_a_row(0.5, 0.5), possession(look="gone")) == LookEvidence()


def test_a_look_of_the_second_passer_was_reached_through_the_first_pass() -> None:
    """4 passes to 1 or 2; 1, who has it now, passes to 3 or 5."""
    order = LookOrder(
        (
            LookPlace("to 2", ("4", "2"), 1),
            LookPlace("to 1", ("4", "1"), 2),
            LookPlace("to 5 late", ("4", "5"), 3),
            LookPlace("on to 3", ("1", "3"), 4, by="to 1"),
            LookPlace("on to 5", ("1", "5"), 5, by="to 1"),
        )
    )
    assert order.way_to("on to 5") == ("to 1", "on to 5")
    # The first pass was there; 4 had passed up 2, and let the ball go before the late look.
    assert told(order, possession(look="on to 5")) == ({"to 1", "on to 5"}, {"to 2", "on to 3"})
    # The first pass was the last one: what 1 could have done with it nobody knows.
    assert told(order, possession(look="to 1")) == ({"to 1"}, {"to 2"})
    # Nothing was there for 4, so that 1 never had the ball.
    none = told(order, possession(taken=Take.NONE))
    assert none == (set(), {"to 2", "to 1", "to 5 late"})


def test_of_looks_that_share_a_glance_one_is_there_at_most() -> None:
    switch = DefenceRead(Defence.SWITCH, ("5",))
    chase = DefenceRead(Defence.CHASE, ("5",))
    looks = with_looks(
        Look("slip", "4", "5", "x", read=switch),
        Look("curl", "4", "5", "x", read=chase),
        Look("safe", "4", "2", "x"),
    )
    order = order_of(looks)
    assert [place.turn for place in order.places] == [1, 1, 2]
    assert told(order, possession(look="slip")) == ({"slip"}, {"curl"})
    assert told(order, possession(look="safe")) == ({"safe"}, {"slip", "curl"})


def test_the_order_of_a_play_knows_who_gets_the_ball_by_a_look() -> None:
    play = with_looks(
        Look("in", "4", "1", "x", guess=0.7),
        Look("on", "1", "5", "x"),
        Look("away", "4", "2", "x"),
    )
    bare = replace(play, thrower="4", phases=())
    by = {place.id: place.by for place in order_of(bare).places}
    assert by == {"in": None, "on": "in", "away": None}
    assert order_of(bare).by_id["in"].guess == 0.7


def test_every_look_of_the_demo_plays_has_a_way() -> None:
    for name in ("gangway",):
        order = order_of(demo_play(name))
        assert order.places
        for place in order.places:
            assert place.id in told(order, possession(look=place.id))[0]


def test_points_and_a_foul_are_something_and_all_else_nothing() -> None:
    assert possession(result=CallResult.FOUL, points=None).worked
    assert possession(points=2, look="1", defence=Tactic.SWITCH).worked
    assert not possession(points=0, look="1").worked
