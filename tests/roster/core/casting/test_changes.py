"""Changes accepted one by one never leave a cast at fault."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.play import Need, Quality, Role
from roster.core.cast import Cast, Lesson, Slot, cast_of, slots
from roster.core.casting.change_words import change_in_words, reasons_in_words
from roster.core.casting.changes import (
    CastChange,
    beneath,
    change_sets,
    changes,
    stale,
    with_changes,
)
from roster.core.casting.faults import cast_problems
from roster.core.casting.question import CastingQuestion, CastPlay
from roster.core.names import Names
from roster.core.people import Player


def some_cast(seed: int, players: int = 7) -> Cast:
    """A cast without a fault: every play's depths are two orders that share no place."""
    rng = np.random.default_rng(seed)
    filled = {}
    for play in ("a", "b"):
        first = rng.permutation(players)[:5]
        second = np.roll(first, int(rng.integers(1, 5)))
        for slot in slots([play], 2):
            filled[slot] = int((first, second)[slot.depth - 1][int(slot.role) - 1])
    return cast_of(filled)


def test_no_change() -> None:
    assert changes(some_cast(1), some_cast(1)) == ()
    assert change_sets(some_cast(1), some_cast(1)) == ()


def test_two_who_trade_places_go_together_and_a_newcomer_alone() -> None:
    old = cast_of({Slot("a", "1", 1): "ida", Slot("a", "2", 1): "noor", Slot("b", "1", 1): "mia"})
    new = cast_of({Slot("a", "1", 1): "noor", Slot("a", "2", 1): "ida", Slot("b", "1", 1): "eva"})
    together, alone = change_sets(old, new)
    assert together == (
        CastChange(Slot("a", "1", 1), "ida", "noor"),
        CastChange(Slot("a", "2", 1), "noor", "ida"),
    )
    assert alone == (CastChange(Slot("b", "1", 1), "mia", "eva"),)


def test_a_trade_between_two_plays_goes_play_by_play() -> None:
    """Nothing in one play keeps anybody out of another."""
    old = cast_of({Slot("a", "1", 1): "ida", Slot("b", "1", 1): "noor"})
    new = cast_of({Slot("a", "1", 1): "noor", Slot("b", "1", 1): "ida"})
    assert change_sets(old, new) == (
        (CastChange(Slot("a", "1", 1), "ida", "noor"),),
        (CastChange(Slot("b", "1", 1), "noor", "ida"),),
    )


def test_a_hole_filled_and_a_slot_emptied() -> None:
    old = cast_of({Slot("a", "1", 1): "ida"})
    new = cast_of({Slot("a", "2", 1): "noor"})
    found = changes(old, new)
    assert found == (
        CastChange(Slot("a", "1", 1), "ida", None),
        CastChange(Slot("a", "2", 1), None, "noor"),
    )
    assert with_changes(old, found) == new


def test_what_somebody_else_changed_meanwhile_is_told() -> None:
    suggested = changes(some_cast(1), some_cast(2))
    moved = with_changes(some_cast(1), [CastChange(suggested[0].slot, suggested[0].before, 99)])
    assert stale(some_cast(1), suggested) == ()
    assert stale(moved, suggested) == (suggested[0],)


@given(st.integers(0, 10**6), st.integers(0, 10**6))
def test_any_choice_of_sets_leaves_a_sound_cast(one: int, other: int) -> None:
    old, new = some_cast(one), some_cast(other)
    sets = change_sets(old, new)
    assert sorted(c for group in sets for c in map(repr, group)) == sorted(
        map(repr, changes(old, new))
    )
    for chosen in product([False, True], repeat=min(4, len(sets))):
        taken = [c for group, yes in zip(sets, chosen, strict=False) if yes for c in group]
        assert cast_problems(with_changes(old, taken)) == ()
    everything = with_changes(old, changes(old, new))
    assert everything.by_slot() == new.by_slot()


NAMES = Names({"ida": "Ida", "noor": "Noor", "eva": "Eva"}, {"a": "Lantern"})
SLOT = Slot("a", "1", 1)


def asked(**more: object) -> CastingQuestion:
    """One play that asks for passing of its role 1; Eva is not rated."""
    team = (
        Player("ida", {Quality.PASSING: 5}, positions=("1",)),
        Player("noor", {Quality.PASSING: 3}, positions=("4",)),
        Player("eva"),
    )
    needs = (Need("1", Quality.PASSING, 4),)
    return CastingQuestion((CastPlay("a", needs),), team, depth=1, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("noor", "ida", "Lantern, role 1, first: Ida instead of Noor."),
        (None, "ida", "Lantern, role 1, first: Ida, where nobody was."),
        ("noor", None, "Lantern, role 1, first: left open, no longer Noor."),
    ],
)
def test_changes_in_words(before: str | None, after: str | None, said: str) -> None:
    assert change_in_words(CastChange(SLOT, before, after), NAMES) == said


def test_a_change_says_why() -> None:
    change = CastChange(SLOT, "noor", "ida")
    assert reasons_in_words(change, asked(), NAMES) == (
        "Why: fits better (95 of 100, not 65), plays that position."
    )
    loaded = asked(
        present=cast_of({SLOT: "noor", Slot("a", "2", 1): "noor"}),
        learnt={Lesson("ida", "a", "1"): 0.8},
    )
    assert reasons_in_words(change, loaded, NAMES).endswith(
        "has fewer places so far (0, not 2), plays that position, knows the role already."
    )
    back = CastChange(SLOT, "ida", "noor")
    assert reasons_in_words(back, asked(), NAMES) == "Why: it makes room for the other changes."
    assert reasons_in_words(CastChange(SLOT, "ida", None), asked(), NAMES) == ""


def test_an_unrated_player_has_no_number() -> None:
    change = CastChange(SLOT, "noor", "eva")
    assert reasons_in_words(change, asked(), NAMES) == "Why: not rated yet."


def test_who_gives_way_takes_the_place_beneath() -> None:
    present = cast_of(
        {Slot("a", "1", 1): "ann", Slot("a", "1", 2): "bea", Slot("a", "1", 3): "cia"}
    )
    answer = cast_of({Slot("a", "1", 1): "ann", Slot("a", "1", 2): "cia"})
    assert beneath(answer, present, 2).who("a", "1") == ("ann", "cia", "bea")


def test_beneath_an_answer_the_rest_of_the_cast_stays() -> None:
    present = cast_of(
        {Slot("a", "1", 3): "cia", Slot("a", "2", 3): "dia", Slot("b", "1", 1): "ann"}
    )
    answer = cast_of({Slot("a", "1", 1): "ann", Slot("a", "2", 2): "bea"})
    whole = beneath(answer, present, 2)
    assert set(whole.assignments) == {*present.assignments, *answer.assignments}


def test_nobody_is_put_beneath_twice() -> None:
    """Ann gives way in role 1, but is third in role 2 already: the place stays open."""
    present = cast_of(
        {Slot("a", "1", 2): "ann", Slot("a", "1", 3): "cia", Slot("a", "2", 3): "ann"}
    )
    answer = cast_of({Slot("a", "1", 2): "cia"})
    assert beneath(answer, present, 2).who("a", "1") == ("cia",)


def test_changes_are_told_by_play_then_role_then_depth() -> None:
    old = cast_of({Slot("b", "1", 1): "ida", Slot("a", "2", 1): "mia"})
    new = cast_of(
        {
            Slot("a", "2", 2): "eva",
            Slot("b", "1", 1): "noor",
            Slot("a", "2", 1): "tove",
            Slot("a", "1", 1): "lea",
        }
    )
    told = [(each.slot.play, each.slot.role, each.slot.depth) for each in changes(old, new)]
    assert told == [("b", "1", 1), ("a", "1", 1), ("a", "2", 1), ("a", "2", 2)]


def at(role: Role, depth: int = 1, play: str = "a") -> Slot:
    return Slot(play, role, depth)


def roles_of(old: Cast, new: Cast) -> list[list[str]]:
    """The role and depth of each change, set by set."""
    return [[f"{c.slot.role}.{c.slot.depth}" for c in group] for group in change_sets(old, new)]


def test_sets_that_a_later_change_ties_together_become_one() -> None:
    """Role 1 gives to 4 and 2 to 3, so these are two sets; 3 gives to 1, and all are one."""
    old = cast_of({at("1"): "ann", at("2"): "bea", at("3"): "cia", at("4"): "dia"})
    crossed = cast_of({at("1"): "dia", at("2"): "cia", at("3"): "bea", at("4"): "ann"})
    assert roles_of(old, crossed) == [["1.1", "4.1"], ["2.1", "3.1"]]
    ring = cast_of({at("1"): "cia", at("2"): "dia", at("3"): "bea", at("4"): "ann"})
    assert roles_of(old, ring) == [["1.1", "2.1", "3.1", "4.1"]]
    paired = cast_of({at("1"): "bea", at("2"): "ann", at("3"): "dia", at("4"): "cia"})
    assert roles_of(old, paired) == [["1.1", "2.1"], ["3.1", "4.1"]]


def test_a_player_moves_up_in_a_role_together_with_who_gives_way() -> None:
    old = cast_of({at("1"): "ann", at("1", 2): "bea"})
    assert roles_of(old, cast_of({at("1"): "bea", at("1", 2): "ann"})) == [["1.1", "1.2"]]
    # From the second depth of one role to the first of another: two depths, two roles.
    apart = cast_of({at("2"): "bea", at("1"): "ann"})
    assert roles_of(old, apart) == [["1.2"], ["2.1"]]


def test_a_hole_that_is_left_twice_is_a_hole() -> None:
    cast = cast_of({at("1"): "ann"})
    gone = CastChange(at("2"), "bea", None)
    assert with_changes(cast, [gone, gone]) == cast
    both = [CastChange(at("1"), "ann", None), CastChange(at("3"), None, "cia")]
    assert with_changes(cast, both) == cast_of({at("3"): "cia"})
    assert stale(cast, [gone, *both]) == (gone,)


def test_who_gave_way_stands_beneath_unless_that_depth_of_the_play_has_them() -> None:
    """In the same depth of another play, or at another depth of another role, nobody is in the
    way; whoever gave way first comes first."""
    present = cast_of({at("1"): "ann", at("1", 2): "bea", at("1", 3): "cia"})
    both = cast_of({at("1"): "cia", at("1", 2): "dia"})
    assert beneath(both, present, 2).who("a", "1") == ("cia", "dia", "ann")
    busy = cast_of({at("1"): "cia", at("2"): "ann"})
    assert beneath(busy, present, 1).by_slot() == {
        at("1"): "cia",
        at("2"): "ann",
        at("1", 2): "bea",
        at("1", 3): "ann",
    }
    elsewhere = cast_of({**present.by_slot(), at("2", 3): "ann", at("2", 3, "b"): "bea"})
    whole = beneath(cast_of({at("1"): "cia", at("1", 2): "dia"}), elsewhere, 2)
    assert whole.who("a", "1") == ("cia", "dia", "bea"), "Ann is third in role 2 of that play"


def test_down_to_its_depth_the_answer_alone_holds() -> None:
    present = cast_of({at("1"): "ann", at("2"): "bea", at("2", 2): "cia"})
    answer = cast_of({at("1"): "dia"})
    assert beneath(answer, present, 1).by_slot() == {at("1"): "dia", at("2", 2): "cia"}
    assert beneath(answer, present, 2).by_slot() == {at("1"): "dia"}
