"""What a casting question refuses, allows and counts, by hand. Our own rules and numbers."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from plays.core.play import ROLES
from roster.core.cast import Cast, Lesson, Slot, cast_of
from roster.core.casting.question import (
    BadCastingError,
    Ban,
    CastingAnswer,
    CastingQuestion,
    CastPlay,
    Ending,
    Limits,
    Lock,
    Wishes,
)
from roster.core.people import Availability, Player

TEAM = (
    Player("ann", positions=("1",)),
    Player("bea", positions=("4", "5"), availability=Availability.LIMITED),
    Player("cia"),
    Player("dia", availability=Availability.OUT),
)
PLAYS = (CastPlay("a"), CastPlay("b", priority=0.5))
SIX: Any = "6"  # no role


def question(**asked: Any) -> CastingQuestion:
    return replace(CastingQuestion(PLAYS, TEAM, depth=2), **asked)


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        ({"depth": 0}, r"^depth 0 is not one of \(1, 2, 3\)$"),
        ({"depth": 4}, r"^depth 4 is not one of \(1, 2, 3\)$"),
        ({"plays": (PLAYS[0], PLAYS[0])}, r"^a play is there twice$"),
        ({"players": (TEAM[0], TEAM[0])}, r"^a player is there twice$"),
        ({"locks": (Lock("ann", "gone", "1"),)}, r"^no such role: Lock\(player='ann', play='gone'"),
        ({"locks": (Lock("ann", "a", SIX),)}, r"^no such role: Lock\(player='ann', play='a'"),
    ],
)
def test_a_question_that_contradicts_itself_is_refused(asked: dict[str, Any], message: str) -> None:
    with pytest.raises(BadCastingError, match=message):
        question(**asked)


def test_a_lock_on_somebody_who_left_is_a_question_all_the_same() -> None:
    assert question(locks=(Lock("gone", "a", "5", 3),)).locks[0].player == "gone"
    for depth in (1, 2, 3):
        assert question(depth=depth).depth == depth


@pytest.mark.parametrize(
    ("ban", "banned"),
    [
        (Ban("ann"), {(0, play, role) for play in (0, 1) for role in range(5)}),
        (Ban("ann", "b"), {(0, 1, role) for role in range(5)}),
        (Ban("cia", None, "3"), {(2, 0, 2), (2, 1, 2)}),
        (Ban("bea", "a", "5"), {(1, 0, 4)}),
        (Ban("gone"), set()),
        (Ban("ann", "gone"), set()),
        (Ban("dia", "a", "1"), set()),
    ],
)
def test_a_ban_shuts_what_it_names_and_nothing_else(
    ban: Ban, banned: set[tuple[int, int, int]]
) -> None:
    free = question().allowed
    assert free[:3].all()
    assert not free[3].any(), "Dia is out"
    shut = free & ~question(bans=(ban,)).allowed
    assert {tuple(place) for place in np.argwhere(shut).tolist()} == banned


def test_bans_after_one_that_names_nobody_still_hold() -> None:
    bans = (Ban("gone"), Ban("ann", "gone"), Ban("ann", "a", "2"))
    allowed = question(bans=bans).allowed
    assert not allowed[0, 0, 1]
    assert allowed.sum() == question().allowed.sum() - 1


def gained(**asked: Any) -> dict[tuple[int, ...], float]:
    """By how much each slot is worth more than without what is asked."""
    more = question(**asked).worth - question().worth
    return {tuple(at): round(float(more[tuple(at)]), 9) for at in np.argwhere(abs(more) > 1e-12)}


def test_what_is_learnt_counts_at_every_depth_by_how_well() -> None:
    learnt = {Lesson("ann", "b", "2"): 0.4, Lesson("gone", "a", "1"): 1, Lesson("ann", "x", "1"): 1}
    assert gained(learnt=learnt) == {(0, 1, 1, 0): 0.02, (0, 1, 1, 1): 0.02}


def test_what_is_kept_counts_in_its_own_slot_as_deep_as_is_cast() -> None:
    filled = {
        Slot("a", "3", 1): "cia",
        Slot("a", "3", 2): "ann",
        Slot("a", "3", 3): "bea",
        Slot("b", "1", 1): "gone",
        Slot("x", "1", 1): "ann",
    }
    assert gained(present=cast_of(filled)) == {(2, 0, 2, 0): 0.05, (0, 0, 2, 1): 0.05}


def test_who_is_limited_is_spared_in_the_first_depth_alone() -> None:
    freed = tuple(replace(player, availability=Availability.AVAILABLE) for player in TEAM)
    more = question(players=freed).worth - question().worth
    assert more[1, ..., 0] == pytest.approx(0.15)
    assert more[1, ..., 1] == pytest.approx(0.0)
    assert more[[0, 2, 3]] == pytest.approx(0.0)


def test_each_step_from_the_usual_positions_costs_by_depth_and_priority() -> None:
    """Ann plays the 1, Bea the 4 and the 5, of Cia nothing is said: one step."""
    free = question(wishes=Wishes(position=0.0)).worth
    lost = (free - question().worth) / 0.05
    steps = np.array([[0, 1, 2, 3, 4], [3, 2, 1, 0, 0], [1, 1, 1, 1, 1]])
    for play, priority in enumerate((1.0, 0.5)):
        for depth, weight in enumerate((1.0, 0.6)):
            assert lost[:3, play, :, depth] == pytest.approx(steps * priority * weight)


def test_where_nobody_has_a_position_nobody_is_away_from_it() -> None:
    plain = tuple(replace(player, positions=()) for player in TEAM)
    asked = question(players=plain)
    free = replace(asked, wishes=Wishes(position=0.0))
    np.testing.assert_array_equal(asked.worth, free.worth)


def test_shares_of_the_slots_by_hand() -> None:
    """Two plays of five roles two deep are 20 slots for two and a half people."""
    asked = question()
    assert asked.fair_shares().tolist() == [8, 4, 8, 0]
    assert asked.least_slots().tolist() == [4, 2, 4, 0]
    assert asked.most_slots().tolist() == [11, 6, 11, 0]  # 1.35 * 8 = 10.8, 1.35 * 4 = 5.4
    lone = question(players=(TEAM[3],))
    assert lone.fair_shares().tolist() == [0]


def test_a_limit_that_is_given_holds_and_half_of_it_for_the_limited() -> None:
    assert question(limits=Limits(slots=7)).most_slots().tolist() == [7, 4, 7, 7]
    assert question(limits=Limits(slots=6)).most_slots().tolist() == [6, 3, 6, 6]
    assert question(limits=Limits(roles=1)).most_roles().tolist() == [1, 1, 1, 1]
    assert question().most_roles().tolist() == [3, 3, 3, 3]


def test_what_is_locked_is_never_beyond_a_limit_that_nobody_gave() -> None:
    locks = tuple(Lock("ann", play, role) for play in "ab" for role in ROLES[:4])
    asked = question(locks=(*locks, Lock("dia", "a", "1", 1)))
    assert asked.most_roles().tolist() == [4, 3, 3, 3]
    assert asked.most_slots().tolist() == [11, 6, 11, 1]


@pytest.mark.parametrize(
    ("ending", "value", "bound", "gap"),
    [
        (Ending.PROVED, 8.0, 10.0, 0.0),
        (Ending.PROVED, 8.0, None, 0.0),
        (Ending.SETTLED, 8.0, 10.0, 0.2),
        (Ending.TIME, 12.0, 10.0, 0.0),
        (Ending.TIME, -12.0, -10.0, 0.2),
        (Ending.TIME, 8.0, None, None),
        (Ending.TIME, 0.0, 0.0, 0.0),
    ],
)
def test_the_gap_is_a_part_of_the_bound(
    ending: Ending, value: float, bound: float | None, gap: float | None
) -> None:
    assert CastingAnswer(Cast(), ending, value, bound).gap == pytest.approx(gap)
