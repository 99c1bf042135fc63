"""Locks that cannot hold together: the smallest set, held against trying all sets."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from time import monotonic

import numpy as np
import pytest

from plays.core.play import ROLES
from roster.core.cast import Cast
from roster.core.casting.conflict import conflict_in_words, locks_in_conflict
from roster.core.casting.model import casting_model
from roster.core.casting.question import (
    Ban,
    CastingAnswer,
    CastingQuestion,
    CastPlay,
    Ending,
    Limits,
    Lock,
)
from roster.core.casting.quick import quick_casting
from roster.core.casting.search import casting
from roster.core.names import Names
from roster.core.people import Availability, Player
from shared.core.milp import solved

NAMES = Names({0: "Ida", 1: "Noor", 2: "Mia"}, {"a": "Lantern", "b": "Harbour"})


def question(*locks: Lock, players: int = 8, **asked: object) -> CastingQuestion:
    team = tuple(Player(i) for i in range(players))
    plays = (CastPlay("a"), CastPlay("b"), CastPlay("c"))
    return CastingQuestion(plays, team, depth=2, locks=locks, **asked)  # type: ignore[arg-type]


def told(asked: CastingQuestion) -> str:
    return conflict_in_words(asked, locks_in_conflict(asked), NAMES)


def can_hold(asked: CastingQuestion, locks: tuple[Lock, ...]) -> bool:
    model = casting_model(asked).free_of_cost().with_locks(locks)
    return solved(model, 10).x is not None


def test_locks_that_hold_together() -> None:
    asked = question(Lock(0, "a", "1", 1), Lock(1, "a", "2", 1), Lock(0, "a", "3", 2))
    assert locks_in_conflict(asked) == ()
    assert locks_in_conflict(question()) == ()


def test_two_players_locked_in_one_slot() -> None:
    locks = Lock(0, "a", "1", 1), Lock(2, "b", "2", 1), Lock(1, "a", "1", 1)
    asked = question(*locks)
    assert locks_in_conflict(asked) == (locks[0], locks[2])
    assert told(asked) == "Ida and Noor are both locked as first in role 1 of Lantern."


def test_one_player_locked_in_two_roles_at_one_depth() -> None:
    asked = question(Lock(0, "a", "1", 1), Lock(0, "a", "4", 1))
    said = "Ida is locked in roles 1 and 4 of Lantern, and would be in all of them at once."
    assert told(asked) == said


def test_one_player_locked_at_two_depths_of_one_role() -> None:
    asked = question(Lock(0, "a", "1", 1), Lock(0, "a", "1", 2))
    assert told(asked) == "Ida is locked in role 1 of Lantern twice."


def test_a_lock_that_cannot_hold_by_itself() -> None:
    lock = Lock(0, "a", "1", 1)
    banned = question(Lock(1, "b", "1"), lock, bans=(Ban(0, "a"),))
    assert locks_in_conflict(banned) == (lock,)
    assert told(banned) == "Ida is locked in role 1 of Lantern, but banned from it."
    out = question(lock)
    out = replace(out, players=(Player(0, availability=Availability.OUT), *out.players[1:]))
    assert told(out) == "Ida is locked in role 1 of Lantern, but is out."
    assert told(question(Lock(99, "a", "1"))) == (
        "A player who is not on the roster is locked in role 1 of Lantern."
    )
    assert told(question(Lock(0, "a", "1", 3))) == (
        "Ida is locked as third in Lantern, which is not being cast."
    )


def test_three_players_locked_in_a_role_of_two_depths() -> None:
    locks = tuple(Lock(i, "a", "3") for i in range(3))
    asked = question(*locks, Lock(5, "b", "3", 1))
    assert locks_in_conflict(asked) == locks
    assert told(asked) == (
        "These locks cannot all hold: Ida in role 3 of Lantern, Noor in role 3 of Lantern "
        "and Mia in role 3 of Lantern."
    )


def test_more_role_numbers_than_the_limit() -> None:
    locks = (Lock(0, "a", "1", 1), Lock(0, "b", "2", 1), Lock(0, "c", "3", 1))
    asked = question(*locks, limits=Limits(roles=2))
    assert locks_in_conflict(asked) == locks
    assert locks_in_conflict(replace(asked, limits=Limits(roles=3))) == ()
    assert locks_in_conflict(replace(asked, limits=Limits())) == ()


def test_more_slots_than_the_limit() -> None:
    locks = tuple(Lock(0, play, "1", 1) for play in "abc")
    assert locks_in_conflict(question(*locks, limits=Limits(slots=2))) == locks


def test_kept_apart_and_locked_together() -> None:
    locks = (Lock(0, "a", "1", 1), Lock(1, "a", "2", 1), Lock(2, "a", "3", 1))
    asked = question(*locks, never_together=((0, 1),))
    assert locks_in_conflict(asked) == locks[:2]


@pytest.mark.parametrize("seed", range(6))
def test_fifteen_locks_against_trying_all_sets(seed: int) -> None:
    rng = np.random.default_rng(seed)
    locks = tuple(
        Lock(
            int(rng.integers(0, 6)),
            str(rng.choice(list("abc"))),
            ROLES[rng.integers(0, 5)],
            [None, 1, 2][rng.integers(0, 3)],
        )
        for _ in range(15)
    )
    asked = question(*dict.fromkeys(locks), players=7, limits=Limits(roles=2, slots=5))
    found = locks_in_conflict(asked)
    assert found
    assert not can_hold(asked, found)
    for size in range(1, len(found)):
        assert all(can_hold(asked, some) for some in combinations(asked.locks, size))


def test_casting_names_the_conflict_and_still_gives_a_quick_cast() -> None:
    asked = question(Lock(0, "a", "1", 1), Lock(1, "a", "1", 1), Lock(2, "b", "2", 1))
    found = casting(asked, 5, monotonic)
    assert found.ending is Ending.CONFLICT
    assert found.conflict == asked.locks[:2]
    assert found.gap is None
    assert found.cast.who("b", "2")[0] == 2
    assert found.cast.holes("abc", 2) == ()


def test_the_quick_way_leaves_a_hole_before_it_has_somebody_run_two_roles_at_once() -> None:
    """One player cannot stand at two places: a rule of the floor, not of this program."""
    asked = question(Lock(0, "a", "1", 1), players=4)
    answer = quick_casting(asked)
    for depth in (1, 2):
        at_once = [a.player for a in answer.cast.assignments if (a.play, a.depth) == ("a", depth)]
        assert len(at_once) == len(set(at_once))
    first = {a.role for a in answer.cast.assignments if (a.play, a.depth) == ("a", 1)}
    assert len(first) == 4
    assert "1" in first


def test_an_answer_without_a_plan_claims_neither_worth_nor_nearness() -> None:
    empty = CastingAnswer(Cast(()), Ending.CONFLICT)
    assert (empty.value, empty.bound, empty.gap) == (0.0, None, None)


def reason(*locks: Lock, **asked: object) -> str:
    return conflict_in_words(question(**asked), locks, NAMES)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("locks", "said"),
    [
        # Two in one role without a depth, at two depths, or in two plays: no plain reason.
        (
            (Lock(0, "a", "1"), Lock(1, "a", "1")),
            "These locks cannot all hold: Ida in role 1 of Lantern and Noor in role 1 of Lantern.",
        ),
        (
            (Lock(0, "a", "1", 1), Lock(1, "a", "1", 2)),
            "These locks cannot all hold: Ida in role 1 of Lantern and Noor in role 1 of Lantern.",
        ),
        (
            (Lock(0, "a", "1", 1), Lock(1, "a", "2", 1)),
            "These locks cannot all hold: Ida in role 1 of Lantern and Noor in role 2 of Lantern.",
        ),
        (
            (Lock(0, "a", "1", 1), Lock(0, "b", "1", 1)),
            "These locks cannot all hold: Ida in role 1 of Lantern and Ida in role 1 of Harbour.",
        ),
        (
            (Lock(1, "b", "2", 2), Lock(2, "b", "2", 2)),
            "Noor and Mia are both locked as second in role 2 of Harbour.",
        ),
        ((Lock(1, "b", "2"), Lock(1, "b", "2", 2)), "Noor is locked in role 2 of Harbour twice."),
        (
            (Lock(2, "b", "5"), Lock(2, "b", "3")),
            "Mia is locked in roles 5 and 3 of Harbour, and would be in all of them at once.",
        ),
        # One lock that only something else can stand against.
        ((Lock(0, "a", "1", 2),), "These locks cannot all hold: Ida in role 1 of Lantern."),
    ],
)
def test_locks_in_words(locks: tuple[Lock, ...], said: str) -> None:
    assert reason(*locks) == said


@pytest.mark.parametrize(
    ("ban", "is_banned"),
    [
        (Ban(0), True),
        (Ban(0, "a"), True),
        (Ban(0, "a", "1"), True),
        (Ban(0, None, "1"), True),
        (Ban(0, "b"), False),
        (Ban(0, "a", "2"), False),
        (Ban(0, None, "2"), False),
        (Ban(1, "a", "1"), False),
    ],
)
def test_a_ban_is_a_reason_for_the_locks_that_it_covers(ban: Ban, is_banned: bool) -> None:
    said = reason(Lock(0, "a", "1", 1), bans=(ban,))
    banned = "Ida is locked in role 1 of Lantern, but banned from it."
    assert (said == banned) is is_banned
    assert locks_in_conflict(question(Lock(0, "a", "1", 1), bans=(ban,))) == (
        (Lock(0, "a", "1", 1),) if is_banned else ()
    )


def test_the_last_depth_that_is_cast_can_be_locked() -> None:
    assert reason(Lock(0, "a", "1", 3)) == (
        "Ida is locked as third in Lantern, which is not being cast."
    )
    assert locks_in_conflict(question(Lock(0, "a", "1", 2))) == ()


def test_somebody_who_left_is_told_before_all_else_and_being_out_before_a_ban() -> None:
    assert reason(Lock(99, "a", "1", 3), bans=(Ban(99),)) == (
        "A player who is not on the roster is locked in role 1 of Lantern."
    )
    asked = question(bans=(Ban(0),))
    out = replace(asked, players=(Player(0, availability=Availability.OUT), *asked.players[1:]))
    said = conflict_in_words(out, [Lock(0, "a", "1", 3)], NAMES)
    assert said == "Ida is locked in role 1 of Lantern, but is out."


def test_what_fails_only_in_whole_numbers_is_found_and_named() -> None:
    """Pigeonholes: in each of three roles one of two locked players stands first; of the three
    on either side only one may. Halves would do, so that only whole numbers show it."""
    locks = tuple(Lock(side + n, "a", ROLES[n]) for side in (0, 3) for n in range(3))
    apart = tuple(pair for side in (0, 3) for pair in combinations(range(side, side + 3), 2))
    asked = question(*locks, players=8, never_together=apart)
    found = casting(asked, 90, monotonic)
    assert found.ending is Ending.CONFLICT
    assert set(found.conflict) == set(locks)
    assert found.gap is None
    assert locks_in_conflict(replace(asked, locks=locks[1:])) == ()


def test_a_lock_on_somebody_who_left_leaves_the_quick_cast_to_the_others() -> None:
    asked = question(Lock(99, "a", "1", 1), Lock(1, "a", "1", 1))
    cast = quick_casting(asked).cast
    assert cast.who("a", "1")[0] == 1
    assert cast.holes("abc", 2) == ()
    assert 99 not in {a.player for a in cast.assignments}
