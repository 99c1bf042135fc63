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
