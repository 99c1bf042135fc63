"""Touches, their sums, strays and tallies, each field and each branch by hand. Our own rules."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from plays.core.play import ROLES
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.cell import readiness
from practice.core.reps.log import merge
from practice.core.reps.rep import (
    Mode,
    Rep,
    Slip,
    Stray,
    Tally,
    Touch,
    as_cast,
    strays,
    summed,
    tally,
    touches,
)

START = datetime(2026, 3, 3, 18, 0, tzinfo=UTC)
FIVE = as_cast({"1": "ada", "2": "bo", "3": "cy", "4": "di", "5": "eva"})
MINUTE = timedelta(minutes=1)
TOUCH = Touch("ada", "lantern", "1", "tue", START, Mode.LIVE, clean=True)


def rep(key: str, minutes: int = 0, **changes: Any) -> Rep:
    made = Rep(key, "tue", "lantern", Mode.LIVE, START + minutes * MINUTE, FIVE)
    return replace(made, **changes)


def gone(*reps: Rep) -> tuple[Stray, ...]:
    return strays(
        reps,
        practices=frozenset({"tue"}),
        plays=frozenset({"lantern"}),
        players=frozenset({"ada", "bo", "cy", "di", "eva"}),
    )


def test_a_rep_that_names_only_what_is_there_is_no_stray() -> None:
    assert gone(rep("a"), rep("b", cast=FIVE[:2])) == ()


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"practice": "old"}, (True, False, ())),
        ({"play": "old"}, (False, True, ())),
        ({"cast": (*FIVE[:3], ("4", "zed"), ("5", "yu"))}, (False, False, ("zed", "yu"))),
    ],
)
def test_one_thing_that_is_gone_makes_a_stray(
    changes: dict[str, Any], told: tuple[bool, bool, tuple[str, ...]]
) -> None:
    odd = rep("b", **changes)
    assert gone(rep("a"), odd, rep("c")) == (Stray(odd, *told),)


def test_a_touch_holds_who_did_what_where_and_when() -> None:
    odd = rep("a", 3, mode=Mode.HALF_SPEED, clean=False, erred="2", slip=Slip.PASS, cast=FIVE[:2])
    assert touches([odd, rep("b", cast=FIVE[4:])]) == (
        Touch("ada", "lantern", "1", "tue", START + 3 * MINUTE, Mode.HALF_SPEED, clean=True),
        Touch("bo", "lantern", "2", "tue", START + 3 * MINUTE, Mode.HALF_SPEED, clean=False),
        Touch("eva", "lantern", "5", "tue", START, Mode.LIVE, clean=True),
    )
    assert {each.count for each in touches([odd])} == {1}


def test_a_clean_rep_is_clean_for_the_one_whom_it_says_to_have_erred_too() -> None:
    assert all(each.clean for each in touches([rep("a", clean=True, erred="2")]))


def test_touches_that_went_alike_are_one_with_their_count_from_the_first_on() -> None:
    later, last = replace(TOUCH, at=START + MINUTE), replace(TOUCH, at=START + 9 * MINUTE, count=4)
    assert summed([last, TOUCH, later]) == (replace(TOUCH, count=6),)
    assert summed([]) == ()


@pytest.mark.parametrize(
    "changes",
    [
        {"practice": "thu"},
        {"play": "anchor"},
        {"player": "bo"},
        {"role": "2"},
        {"mode": Mode.HALF_SPEED},
        {"clean": False},
    ],
)
def test_touches_that_differ_in_more_than_their_moment_stay_apart(changes: dict[str, Any]) -> None:
    """In the order in which the first of each was run, however they arrive."""
    other = replace(TOUCH, at=START - MINUTE, **changes)
    assert summed([TOUCH, replace(TOUCH, at=START + MINUTE), other]) == (
        other,
        replace(TOUCH, count=2),
    )


def test_sums_of_touches_give_the_same_readiness_as_the_touches() -> None:
    """The one thing that sums are for: nothing that is counted from them changes."""
    draw = random.Random(7)
    single = touches(
        rep(
            str(number),
            draw.randrange(60 * 24 * 20),
            practice=draw.randrange(6),
            play=draw.choice(["lantern", "anchor"]),
            mode=draw.choice(list(Mode)),
            clean=draw.random() < 0.7,
            erred=draw.choice([None, *ROLES]),
        )
        for number in range(120)
    )
    sums = summed(single)
    assert len(sums) < len(single)
    assert sum(each.count for each in sums) == len(single)
    on = START + timedelta(days=30)
    for role, who in FIVE:
        cell = who, "lantern", role
        one, other = (readiness(each, cell, on, Assumptions()) for each in (single, sums))
        assert one.value == pytest.approx(other.value, abs=1e-12)
        assert one.reps == other.reps > 0


def test_a_tally_tells_how_each_role_erred_and_nothing_of_errors_of_nobody() -> None:
    counted = tally(
        [
            rep("a"),
            rep("b", clean=False, erred="4", slip=Slip.LATE),
            rep("c", clean=False, erred="4", slip=Slip.EARLY),
            rep("d", clean=False, erred="2", slip=Slip.LATE),
            rep("e", clean=False, erred="2", slip=Slip.LATE),
            rep("f", clean=False, erred="2"),
            rep("g", clean=False),
            rep("h", clean=True, erred="1", slip=Slip.PASS),
        ]
    )
    assert counted == Tally(
        2,
        8,
        {("4", Slip.LATE): 1, ("4", Slip.EARLY): 1, ("2", Slip.LATE): 2, ("2", None): 1},
    )
    assert tally([]) == Tally(0, 0, {})


def test_a_cast_stands_in_the_order_of_the_roles() -> None:
    assert as_cast({"5": "eva", "1": "ada", "3": "cy"}) == (("1", "ada"), ("3", "cy"), ("5", "eva"))
    assert rep("a").player("3") == "cy"
    assert rep("a", cast=FIVE[:2]).player("3") is None


def test_the_earlier_of_two_different_taps_with_one_id_counts() -> None:
    first, second, third = rep("a", 0), rep("a", 1), rep("a", 2)
    (clash,) = merge([third, first], [second]).clashes
    assert (clash.id, clash.kept, clash.others) == ("a", first, (second, third))
