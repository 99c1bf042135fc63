"""Who stands where, and which looks are left when a counter is run."""

from __future__ import annotations

from plays.core.course import final_places, scenes, with_counter
from plays.core.play import (
    Action,
    ActionKind,
    Counter,
    Defence,
    Formation,
    Look,
    PassKind,
    Phase,
    Play,
    Point,
    RuleSet,
    Situation,
    Start,
)

PLAY = Play(
    key="plank",
    name="Plank",
    situation=Situation.HALF_COURT,
    formation=Formation.SPREAD,
    court=RuleSet.FIBA,
    ball="1",
    starts=tuple(Start(role, Point(float(role), 9.0)) for role in ("1", "2", "3", "4", "5")),
    phases=(
        Phase("first", "First", (Action("safe", "2", ActionKind.CUT, (Point(5.0, 5.0),)),)),
        Phase("second", "Second", (Action("dive", "3", ActionKind.CUT, (Point(0.0, 3.0),)),)),
    ),
    looks=(Look("wing", "1", "2", "safe"), Look("rim", "1", "3", "dive")),
)
LOB = Look("lob", "1", "3", "dive", PassKind.LOB)


def counter(*looks: Look) -> Counter:
    return Counter("front", Defence.FRONT, "second", "Throw it over.", looks=looks)


def test_an_earlier_look_stays_before_those_of_the_counter() -> None:
    assert [k.id for k in with_counter(PLAY, counter(LOB)).looks] == ["wing", "lob"]


def test_an_earlier_look_listed_again_comes_where_the_counter_puts_it() -> None:
    again = with_counter(PLAY, counter(LOB, PLAY.looks[0]))
    assert [k.id for k in again.looks] == ["lob", "wing"]


def test_a_phase_begins_where_the_one_before_ended() -> None:
    second = scenes(PLAY)[1]
    assert second.places["2"] == Point(5.0, 5.0)
    assert second.places["3"] == PLAY.start_of("3")
    assert final_places(PLAY)["3"] == Point(0.0, 3.0)


def test_a_written_pass_moves_the_ball_and_nobody() -> None:
    throw = Action("swing", "1", ActionKind.PASS, to="2", pass_kind=PassKind.DIRECT)
    told = with_counter(
        PLAY, Counter("trap", Defence.TRAP, "first", "Swing it.", replace=(), add=(throw,))
    )
    assert [scene.holder for scene in scenes(told)] == ["1", "2"]
    assert final_places(told)["1"] == PLAY.start_of("1")
