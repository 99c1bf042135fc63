"""Who stands where, and which looks are left when a counter is run."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.document.walk import counter_run, plain_run
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.motion.thrown import thrown
from plays.core.play import (
    ROLES,
    Action,
    ActionKind,
    AgeGroup,
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
from plays.core.sequence.course import assumed_looks, final_places, scenes, with_counter
from plays.core.words.part import part_of
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.samples import cut, dribble, throw, thrown_in

PLAY = Play(
    key="plank",
    name="Plank",
    situation=Situation.HALF_COURT,
    formation=Formation.SPREAD,
    court=RuleSet.FIBA,
    ball="1",
    starts=tuple(Start(role, Point(float(role), 9.0)) for role in ("1", "2", "3", "4", "5")),
    phases=(
        Phase("first", "First", (cut("safe", "2", (5.0, 5.0)),)),
        Phase("second", "Second", (cut("dive", "3", (0.0, 3.0)),)),
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


def test_an_earlier_look_stays_first_even_if_the_play_has_it_last() -> None:
    wing, rim = PLAY.looks
    turned = replace(PLAY, looks=(rim, wing))
    assert [k.id for k in with_counter(turned, counter(LOB)).looks] == ["wing", "lob"]


def test_a_look_listed_again_is_as_the_counter_says() -> None:
    bounced = replace(PLAY.looks[0], pass_kind=PassKind.BOUNCE)
    assert with_counter(PLAY, counter(bounced, LOB)).looks == (bounced, LOB)


def test_from_the_first_phase_on_no_look_of_the_play_is_left() -> None:
    early = replace(counter(LOB), from_phase="first")
    assert with_counter(PLAY, early).looks == (LOB,)


def test_a_counter_without_looks_changes_none() -> None:
    step = Action("step", "4", ActionKind.CUT, (Point(3.0, 3.0),))
    assert with_counter(PLAY, replace(counter(), add=(step,))).looks == PLAY.looks


@pytest.mark.parametrize("play", DEMO, ids=lambda play: play.key)
def test_words_and_checks_number_the_looks_in_the_same_order(play: Play) -> None:
    for index, one in enumerate(play.counters):
        looks = with_counter(play, one).looks
        run = counter_run(plain_run(play), index)
        assert run is not None
        assert tuple(look for _, look in run.looks) == looks
        for role in ROLES:
            told = part_of(play, role).counters[index].part.looks
            mine = [n for n, k in enumerate(looks, 1) if role in (k.passer, k.receiver)]
            assert [(line.number, line.look) for line in told] == [
                (n, looks[n - 1].id) for n in mine
            ]


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


PIER = thrown_in(
    "pier",
    ((-7.8, 8.325), (-4.0, 8.0), (3.0, 6.0), (-2.0, 3.0), (2.0, 3.0)),
    Phase(
        "free",
        "Free",
        (
            cut("two", "2", (-5.0, 6.0)),
            cut("three", "3", (0.0, 9.0)),
        ),
    ),
    Phase(
        "on",
        "On",
        (
            dribble("drives", "2", (-2.0, 5.0)),
            throw("kick", "2", "4"),
            cut("steps-in", "1", (-5.0, 9.0)),
        ),
        rotation=True,
    ),
    Phase("off", "Off", (cut("away", "5", (5.0, 1.0)),)),
    looks=(
        Look("wing", "1", "2", "two"),
        Look("top", "1", "3", "three"),
        Look("again", "1", "2", "two", PassKind.BOUNCE),
        Look("inside", "2", "4", "kick"),
    ),
)


def test_a_rotation_with_the_ball_is_written_for_the_first_receiver() -> None:
    """Looks 1 and 3 both go to 2; nobody does anything with the ball in the last phase."""
    assert assumed_looks(PIER) == {"on": (1, 3)}


def test_nothing_is_assumed_where_nothing_depends_on_the_look() -> None:
    wing, top, again, inside = PIER.looks
    free, on, off = PIER.phases
    run = replace(on, actions=on.actions[2:])
    written = replace(free, actions=(*free.actions, throw("in", "1", "2")))
    assert assumed_looks(replace(PIER, looks=(wing, again, inside))) == {}
    assert assumed_looks(replace(PIER, looks=())) == {}
    assert assumed_looks(replace(PIER, phases=(free, run, off))) == {}
    assert assumed_looks(replace(PIER, phases=(written, on, off))) == {}
    assert assumed_looks(replace(PIER, phases=(free, replace(on, rotation=False), off))) == {}
    assert assumed_looks(replace(PIER, looks=(top, wing, again, inside))) == {"on": (1,)}


def test_who_needs_the_ball_of_one_look_is_told_which() -> None:
    only, without = "Do so only after look 1 or 3.", "After another look, run there without"
    drives, kick = (step.text for step in part_of(PIER, "2").steps[1:])
    assert only in drives
    assert without in drives
    assert only in kick
    assert without not in kick
    assert only in " ".join(part_of(PIER, "4").start)
    for role in ("1", "3", "5"):
        assert "only after" not in " ".join(part_of(PIER, role).sentences())


def test_in_motion_the_ball_goes_where_the_words_say() -> None:
    line = timeline(PIER, pace_of(AgeGroup.ADULT))
    made = {look: {f.source for f in thrown(line, look).flights} for look in ("wing", "top")}
    assert "kick" in made["wing"]
    assert "kick" not in made["top"]
