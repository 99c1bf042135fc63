"""A cast play by play: whose locks hold, whom a unit draws in, and who is kept apart.

The assignment itself is held to scipy's and to a textbook's in ``test_casting``.
"""

from __future__ import annotations

from typing import Any

from plays.core.play import ROLES
from roster.core.cast import Cast
from roster.core.casting.question import Ban, CastingQuestion, CastPlay, Ending, Lock
from roster.core.casting.quick import quick_casting
from roster.core.casting.score import score
from roster.core.people import Player

# One of each position, so that p1 to p5 stand first in their own numbers, and five behind them.
TEAM = tuple(Player(f"p{n}", positions=(ROLES[(n - 1) % 5],)) for n in range(1, 11))


def cast(unit: tuple[str, ...] = (), depth: int = 2, **asked: Any) -> Cast:
    question = CastingQuestion((CastPlay("a", unit=unit),), TEAM, depth, **asked)
    answer = quick_casting(question)
    assert (answer.ending, answer.bound) == (Ending.QUICK, None)
    assert answer.value == score(question, answer.cast).total
    return answer.cast


def firsts(made: Cast) -> list[object]:
    return [made.who("a", role)[0] for role in ROLES]


def test_without_locks_everybody_plays_the_usual_position() -> None:
    made = cast()
    assert {made.who("a", role)[depth] for role in ROLES for depth in (0, 1)} == {
        player.id for player in TEAM
    }
    for number, role in enumerate(ROLES, 1):
        assert set(made.who("a", role)) == {f"p{number}", f"p{number + 5}"}
    places = [(a.role, a.depth) for a in made.assignments]
    assert places == sorted(places)


def test_a_unit_draws_its_members_in_and_passes_over_who_left() -> None:
    unit = ("gone", "p6", "p7", "p8", "p9")
    made = cast(unit)
    assert firsts(made)[:4] == ["p6", "p7", "p8", "p9"]
    assert firsts(made)[4] in {"p5", "p10"}
    assert [made.who("a", role)[1] for role in ROLES[:4]] == ["p1", "p2", "p3", "p4"]


def test_a_lock_with_a_depth_goes_before_one_without() -> None:
    locks = (Lock("p3", "a", "1"), Lock("p4", "a", "1", 1), Lock("gone", "a", "2", 1))
    made = cast(locks=locks)
    assert made.who("a", "1") == ("p4", "p3")
    assert len(made.assignments) == 10


def test_of_locks_that_contradict_each_other_the_first_holds() -> None:
    made = cast(locks=(Lock("p3", "a", "1", 1), Lock("p4", "a", "1", 1), Lock("p3", "a", "2", 1)))
    assert made.who("a", "1")[0] == "p3"
    assert made.who("a", "2")[0] != "p3"
    third = cast(locks=(Lock("p3", "a", "1", 3),))
    assert third == cast()
    banned = cast(locks=(Lock("p3", "a", "1", 1),), bans=(Ban("p3", "a", "1"),))
    assert "p3" not in banned.who("a", "1")


def test_of_a_group_kept_apart_one_stands_back_in_the_first_depth_alone() -> None:
    made = cast(never_together=(("p1", "p2", "p6"), ("p3", "p8"), ("gone", "p4")))
    five = set(firsts(made))
    assert not {"p1", "p2", "p6"} <= five
    assert not {"p3", "p8"} <= five
    together = cast(
        depth=1, never_together=(("p1", "p2"),), bans=tuple(Ban(f"p{n}") for n in (6, 7))
    )
    assert not {"p1", "p2"} <= set(firsts(together))
