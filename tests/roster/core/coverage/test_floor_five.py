"""The five on the floor: best fillings, who moves, and why not."""

from __future__ import annotations

from itertools import combinations, permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from plays.core.play import ROLES, Role
from roster.core.cast import Assignment, Cast, cast_of, slots
from roster.core.coverage.fives import (
    MOST_PLAYERS,
    TooManyPlayersError,
    combinations_of,
    fives,
)
from roster.core.coverage.floor_five import (
    NotAFiveError,
    PlayFilling,
    RoleMove,
    moves,
    moves_in_words,
    the_five,
)
from roster.core.coverage.matching import coverage
from roster.core.coverage.squad import squad
from roster.core.coverage.why_not import Shortage, in_words, shortages
from roster.core.names import Names
from tests.roster.core.coverage.squads import some_squad, squad_knowing

NAMES = Names({"p0": "Ida", "p1": "Noor", "p2": "Mia", "p3": "Eva"})


@pytest.mark.parametrize("seed", range(3))
def test_best_filling_against_linear_assignment(seed: int) -> None:
    team = some_squad(seed, players=9, plays=6, share=0.6)
    worth = np.random.default_rng(seed).integers(1, 1025, team.worth.shape) / 1024
    team.worth[:] = np.where(team.known, worth, 0)
    runnable = team.runnable()
    for row, five in list(enumerate(fives(9)))[::7]:
        for column, found in enumerate(the_five(team, [team.players[p] for p in five])):
            assert found.can_run == runnable[row, column]
            if not found.can_run:
                assert found.shortages
                continue
            assert sorted(found.filling.values()) == [team.players[p] for p in five]
            floor = np.where(team.known, team.worth, -1000)[five, column]
            best = floor[linear_sum_assignment(floor, maximize=True)].sum()
            assert found.worth == pytest.approx(best / 5)


def test_the_first_five_take_their_own_roles() -> None:
    cast = cast_of({slot: f"{slot.depth}{slot.role}" for slot in slots(["a", "b"], 2)})
    players = [f"{depth}{role}" for depth in (1, 2) for role in ROLES]
    team = squad(players, ["a", "b"], cast)
    for found in the_five(team, players[:5]):
        assert dict(found.filling) == {role: f"1{role}" for role in ROLES}
        assert found.worth == 1.0


def test_whatever_order_the_five_is_picked_in() -> None:
    team = squad_knowing(np.ones((6, 2, 5), dtype=np.bool_))
    first = the_five(team, ["p4", "p1", "p0", "p2", "p5"])
    for order in permutations(["p0", "p1", "p2", "p4", "p5"]):
        assert the_five(team, order) == first
    assert dict(first[0].filling) == dict(zip(ROLES, ["p0", "p1", "p2", "p4", "p5"], strict=True))


def test_a_swap_moves_no_more_people_than_it_must() -> None:
    team = squad_knowing(np.ones((7, 1, 5), dtype=np.bool_))
    before = the_five(team, ["p1", "p2", "p3", "p4", "p5"])
    after = the_five(team, ["p0", "p2", "p3", "p4", "p5"], before)
    assert moves(before, after) == (RoleMove("p1", "a", "1", None), RoleMove("p0", "a", None, "1"))
    assert moves(before, before) == ()


def test_no_five() -> None:
    team = some_squad(0)
    for wrong in (["p0"], ["p0"] * 5, ["p0", "p1", "p2", "p3", "x"], list(team.players[:6])):
        with pytest.raises(NotAFiveError):
            the_five(team, wrong)


def known_as(*roles: str) -> np.ndarray:
    """(players, 5): player by player, the roles they know."""
    return np.array([[role in mine for role in ROLES] for mine in roles])


def test_two_roles_share_one_person() -> None:
    """The bits 1, 1, 4, 8, 16: two people for role 1, nobody for role 2."""
    five = ["p0", "p1", "p2", "p3", "p4"]
    (lack,) = shortages(five, known_as("1", "1", "3", "4", "5"))
    assert lack == Shortage(("2",), ())
    assert in_words(lack, NAMES) == "nobody here knows role 2"
    assert in_words(lack, NAMES, thrower="2") == "nobody here knows how to throw in (role 2)"
    (lack,) = shortages(five, known_as("123", "45", "123", "123", "1"))
    assert lack == Shortage(("4", "5"), ("p1",))
    assert in_words(lack, NAMES) == "roles 4 and 5 share one person: Noor"
    (lack,) = shortages(five, known_as("345", "345", "12", "12", "12"))
    assert lack == Shortage(("3", "4", "5"), ("p0", "p1"))
    assert in_words(lack, NAMES) == "roles 3, 4 and 5 share only 2 people: Ida and Noor"


def test_every_shortage_is_told_and_none_inside_another() -> None:
    found = shortages(["p0", "p1", "p2", "p3", "p4"], known_as("1", "1", "1", "1", "45"))
    assert [lack.roles for lack in found] == [("2",), ("3",), ("4", "5")]


@settings(max_examples=200, deadline=None)  # under a second; most tables of 25 have no shortage
@given(st.lists(st.booleans(), min_size=25, max_size=25))
def test_a_shortage_exactly_where_the_play_cannot_be_run(bits: list[bool]) -> None:
    """Hall 1935: one or the other, never both; and each set told is smallest."""
    known = np.array(bits).reshape(5, 5)
    found = shortages(range(5), known)
    assert bool(found) != coverage(known[:, None])[0, 0]
    for lack in found:
        assert len(lack.players) < len(lack.roles)
        for size in range(1, len(lack.roles)):
            for part in combinations(lack.roles, size):
                able = known[:, [ROLES.index(role) for role in part]].any(axis=1).sum()
                assert able >= size


def test_cast_with_a_hole_tells_which_role() -> None:
    cast = Cast(tuple(Assignment("a", role, 1, f"p{role}") for role in ROLES[:4]))
    team = squad(["p1", "p2", "p3", "p4", "p5"], ["a"], cast)
    (found,) = the_five(team, team.players)
    assert not found.can_run
    assert found.shortages == (Shortage(("5",), ()),)


def test_moves_are_said_once_for_each_player_and_change() -> None:
    names = Names({"p0": "Ida", "p1": "Noor"}, {"a": "Lantern", "b": "Harbour", "c": "Mill"})
    found = [
        RoleMove("p0", "a", None, "2"),
        RoleMove("p1", "a", "2", "3"),
        RoleMove("p0", "b", None, "2"),
        RoleMove("p1", "b", "3", None),  # goes off: another has the role, and that is said
    ]
    assert list(moves_in_words(found, names)) == [
        "Ida takes role 2 in Lantern and Harbour.",
        "Noor goes from role 2 to role 3 in Lantern.",
    ]


def test_a_move_is_told_of_who_comes_goes_and_changes_and_of_nobody_else() -> None:
    def filled(play: str, *people: str) -> PlayFilling:
        return PlayFilling(play, dict(zip(ROLES, people, strict=True)), 1.0)

    before = [filled("a", "p0", "p1", "p2", "p3", "p4"), filled("b", "p0", "p1", "p2", "p3", "p4")]
    after = [filled("a", "p0", "p2", "p1", "p3", "p5"), filled("b", "p0", "p1", "p2", "p3", "p4")]
    assert moves(before, after) == (
        RoleMove("p1", "a", "2", "3"),
        RoleMove("p2", "a", "3", "2"),
        RoleMove("p4", "a", "5", None),
        RoleMove("p5", "a", None, "5"),
    )
    assert moves(before, before) == ()
    assert moves([], after[1:]) == tuple(
        RoleMove(f"p{n}", "b", None, role) for n, role in enumerate(ROLES)
    )
    assert list(moves_in_words(moves(before, after), NAMES)) == [
        "Mia goes from role 3 to role 2 in a.",
        "Noor goes from role 2 to role 3 in a.",
        "p5 takes role 5 in a.",
    ]


def test_what_is_no_five_is_refused_in_words() -> None:
    team = squad_knowing(np.ones((6, 1, 5), dtype=np.bool_))
    four = ["p0", "p1", "p2", "p3"]
    for odd in (four, [*four, "p3"], [*four, "zed"], [*four, "p4", "p4"], team.players):
        with pytest.raises(NotAFiveError, match=r"^choose five different players who can play$"):
            the_five(team, odd)


@pytest.mark.parametrize(
    ("shortage", "thrower", "said"),
    [
        (Shortage(("3",), ()), None, "nobody here knows role 3"),
        (Shortage(("3",), ()), "1", "nobody here knows role 3"),
        (Shortage(("3",), ()), "3", "nobody here knows how to throw in (role 3)"),
        (Shortage(("4", "5"), ("p1",)), "4", "roles 4 and 5 share one person: Noor"),
        (
            Shortage(("2", "4", "5"), ("p1", "p0")),
            None,
            "roles 2, 4 and 5 share only 2 people: Noor and Ida",
        ),
    ],
)
def test_a_shortage_in_words(shortage: Shortage, thrower: Role | None, said: str) -> None:
    assert in_words(shortage, NAMES, thrower) == said


@pytest.mark.parametrize("value", [0.7, 0.6999])
def test_a_role_is_known_from_the_readiness_asked_for_on(value: float) -> None:
    cast = cast_of({slot: f"p{slot.role}" for slot in slots(["a"], 1)})
    readiness = {a.lesson: value for a in cast.assignments[:2]}
    made = squad([f"p{role}" for role in ROLES], ["a"], cast, readiness=readiness, ready=0.7)
    assert made.known.sum() == (2 if value >= 0.7 else 0), (
        "whose readiness is missing does not know"
    )
    assert made.worth.max() == (value if value >= 0.7 else 0.0)
    strangers = squad(["p1", "zed"], ["gone"], cast)
    assert not strangers.known.any()


def test_too_many_players_are_refused_with_both_numbers() -> None:
    over = MOST_PLAYERS + 1
    message = f"^{over} players; at most {MOST_PLAYERS} can be reckoned with$"
    with pytest.raises(TooManyPlayersError, match=message):
        combinations_of(over, 2)
    assert len(combinations_of(MOST_PLAYERS, 2)) == MOST_PLAYERS * (MOST_PLAYERS - 1) // 2
