"""Who steps in: held against every way to fill five roles, tried one by one."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from plays.core.play import ROLES, Role
from roster.core.cast import Assignment, Cast, PlayerId, cast_of, slots
from roster.core.coverage.squad import DEPTH_WORTH
from roster.core.coverage.stand_in import first_five

PLAYERS = tuple(f"p{n}" for n in range(8))
WHOLE = cast_of({slot: f"{slot.depth}{slot.role}" for slot in slots(["a"], 3)})


def worth_of(cast: Cast, five: Mapping[Role, PlayerId]) -> tuple[int, float]:
    depth = {(a.role, a.player): a.depth for a in cast.assignments}
    worth = [DEPTH_WORTH[depth[role, who] - 1] for role, who in five.items()]
    return len(five), round(sum(worth), 6)


@st.composite
def casts(draw: st.DrawFn) -> Cast:
    """One play, nobody twice in a five or a role."""
    made: list[Assignment] = []
    for depth in (1, 2, 3):
        order = draw(st.permutations(PLAYERS))
        filled = draw(st.lists(st.booleans(), min_size=5, max_size=5))
        made += [
            Assignment("a", role, depth, who)
            for role, who, there in zip(ROLES, order, filled, strict=False)
            if there and not any(a.role == role and a.player == who for a in made)
        ]
    return Cast(tuple(made))


@given(casts(), st.sets(st.sampled_from(PLAYERS), max_size=4))
def test_no_other_filling_is_better(cast: Cast, out: set[str]) -> None:
    found = first_five(cast, "a", out)
    assert len(set(found.values())) == len(found)
    assert not out & set(found.values())
    able = [[None, *(w for w in cast.who("a", role) if w not in out)] for role in ROLES]
    best = max(
        worth_of(cast, {r: w for r, w in zip(ROLES, five, strict=True) if w is not None})
        for five in product(*able)
        if len({w for w in five if w}) == sum(w is not None for w in five)
    )
    assert worth_of(cast, found) == best


def test_a_whole_first_five_stays_as_the_coach_made_it() -> None:
    assert first_five(WHOLE, "a") == {role: f"1{role}" for role in ROLES}
    assert first_five(WHOLE, "a", {"25", "31"}) == {role: f"1{role}" for role in ROLES}


def test_the_next_in_depth_steps_in_and_nobody_else_moves() -> None:
    five = first_five(WHOLE, "a", {"12", "15", "25"})
    assert five == {"1": "11", "2": "22", "3": "13", "4": "14", "5": "35"}


def test_a_role_that_nobody_is_left_for_stays_open() -> None:
    five = first_five(WHOLE, "a", {"13", "23", "33"})
    assert "3" not in five
