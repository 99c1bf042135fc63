"""A turn keeps what is run to a landmark of the floor, and turns what stands by the thrower.

Places of the rule books: the basket's centre 1.575 m from the inner edge of the end line, the lane
4.90 m wide, the free-throw line's far edge at 5.80 m (FIBA Official Basketball Rules 2022, 2.5.3,
2.5.4); 63 inches, 12 feet and 19 feet (NFHS 2025-26, 1-4 to 1-6). That a post-up and a cut to the
rim keep their place whichever line the ball comes from is common practice.
"""

from __future__ import annotations

from dataclasses import replace
from math import dist

import pytest

from plays.core.court.courts import court
from plays.core.moves.moves import turn
from plays.core.moves.off_court import off_court
from plays.core.play import (
    Counter,
    Cut,
    Defence,
    Formation,
    Look,
    Phase,
    Play,
    Point,
    RuleSet,
    Situation,
)
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.samples import cut, thrown_in

TURNABLE = [play for play in DEMO if play.spot is not None and not play.spot.far]
LANDED = (Cut.POST_UP, Cut.SEAL, Cut.ROLL, Cut.SLIP, Cut.CLEAR_OUT)
BASKET = Point(0.0, 1.575)  # FIBA 2.5.4 V


def ends(play: Play) -> dict[str, Point]:
    return {action.id: action.path[-1] for action in play.actions() if action.path}


@pytest.mark.parametrize("play", TURNABLE, ids=lambda play: play.key)
def test_turned_and_turned_back_it_is_the_play(play: Play) -> None:
    assert turn(turn(play)) == play
    assert ends(turn(turn(play))) == ends(play)


@pytest.mark.parametrize("play", TURNABLE, ids=lambda play: play.key)
def test_who_runs_to_a_landmark_ends_there(play: Play) -> None:
    basket, before, after = court(play.court).basket, ends(play), ends(turn(play))
    for action in play.actions():
        if action.path:
            at_rim = dist(before[action.id], basket) < 1.5
            if at_rim or action.cut in LANDED:
                assert after[action.id] == before[action.id], action.id
            if not at_rim:  # and nobody is carried under the basket by the turn
                assert dist(after[action.id], basket) > 1.5, action.id


@pytest.mark.parametrize("play", TURNABLE, ids=lambda play: play.key)
def test_nobody_ends_off_the_half_court(play: Play) -> None:
    known = {(found.role, found.action) for found in off_court(play)}
    assert {(found.role, found.action) for found in off_court(turn(play))} <= known


@pytest.mark.parametrize("play", TURNABLE, ids=lambda play: play.key)
def test_what_follows_the_throw_in_stays_on_the_floor(play: Play) -> None:
    before, after = ends(play), ends(turn(play))
    for phase in play.phases:
        for action in phase.actions if phase.rotation else ():
            if action.path:
                assert after[action.id] == before[action.id], action.id


@pytest.mark.parametrize("play", TURNABLE, ids=lambda play: play.key)
def test_the_situation_follows_the_line(play: Play) -> None:
    swapped = {
        Situation.SIDELINE: Situation.BASELINE,
        Situation.BASELINE: Situation.SIDELINE,
    }
    assert turn(play).situation is swapped.get(play.situation, play.situation)


LINE = thrown_in(
    "line",
    ((7.8, 8.325), (5.5, 8.3), (4.0, 8.3), (2.5, 8.3), (1.0, 8.3)),
    Phase(
        "p1",
        "",
        (
            cut("rim", "2", (5.0, 6.5), (0.5, 2.0)),
            replace(cut("post", "5", (2.45, 2.8)), cut=Cut.POST_UP),
            replace(cut("clear", "4", (-6.8, 1.0)), cut=Cut.CLEAR_OUT),
            cut("break", "3", (5.5, 8.9)),
        ),
    ),
    formation=Formation.LINE_ACROSS,
)


@pytest.mark.parametrize("rules", [RuleSet.FIBA, RuleSet.NFHS])
def test_a_line_turns_with_the_thrower_and_its_cuts_end_at_the_landmarks(rules: RuleSet) -> None:
    moved = turn(replace(LINE, court=rules))
    found = ends(moved)
    assert found["rim"] == Point(0.5, 2.0)
    assert found["post"] == Point(2.45, 2.8)  # by the neutral zone of the lane, FIBA 2.5.3 V
    assert found["clear"] == Point(-6.8, 1.0)
    spot = moved.start_of("1")
    for role in ("2", "3", "4", "5"):  # the line stands before the thrower as it stood before
        assert dist(moved.start_of(role), spot) == pytest.approx(
            dist(LINE.start_of(role), LINE.start_of("1")),
            abs=0.2,
        )
    assert dist(found["break"], spot) == pytest.approx(
        dist((5.5, 8.9), LINE.start_of("1")), abs=0.2
    )


@pytest.mark.parametrize("formation", [Formation.BOX, Formation.DIAMOND])
def test_a_box_stands_about_the_lane_from_either_line(formation: Formation) -> None:
    box = replace(LINE, formation=formation)
    moved = turn(box)
    assert [moved.start_of(role) for role in ("2", "3", "4", "5")] == [
        box.start_of(role) for role in ("2", "3", "4", "5")
    ]
    assert moved.start_of("1").y < 0.0
    assert turn(moved) == box


def test_a_counters_look_is_caught_where_its_runner_ends_after_the_turn() -> None:
    """A pass to who slips to the rim stays there; one to who steps to the line turns with it."""
    rim, out = (0.6, 2.0), (5.0, 8.6)
    counter = Counter(
        "switch",
        Defence.SWITCH,
        "p1",
        "Slip",
        add=(cut("slip", "4", rim), cut("step", "3", out)),
        looks=(
            Look("at-rim", "1", "4", "slip", at=Point(*rim)),
            Look("at-line", "1", "3", "step", at=Point(*out)),
        ),
    )
    turned = turn(replace(LINE, counters=(counter,))).counters[0]
    for look, run in zip(turned.looks, turned.add, strict=True):
        assert look.at == run.path[-1]
    assert turned.looks[0].at == Point(*rim)
    assert turned.looks[1].at != Point(*out)
