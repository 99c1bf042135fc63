"""Why a change of a cast was proposed: each reason, and when it is not given. Our own words.

Fits are those of ``fit``: passing 5 where 4 is asked for is 95 of 100, passing 3 is 65.
"""

from __future__ import annotations

from typing import Any

import pytest

from plays.core.play import Need, Quality
from roster.core.cast import Cast, Lesson, PlayerId, Slot, cast_of
from roster.core.casting.change_words import change_in_words, place_in_words, reasons_in_words
from roster.core.casting.changes import CastChange
from roster.core.casting.question import CastingQuestion, CastPlay
from roster.core.names import Names
from roster.core.people import Player

NAMES = Names({"ida": "Ida", "noor": "Noor", "eva": "Eva"}, {"a": "Lantern"})
SLOT = Slot("a", "1", 1)
ROOM = "Why: it makes room for the other changes."
IDA = Player("ida", {Quality.PASSING: 5}, positions=("1",))
NOOR = Player("noor", {Quality.PASSING: 3}, positions=("4",))
TWIN = Player("twin", {Quality.PASSING: 5}, positions=("1", "2"))
EVA = Player("eva")


def why(before: PlayerId | None, after: PlayerId | None, slot: Slot = SLOT, **more: Any) -> str:
    plays = (CastPlay("a", (Need("1", Quality.PASSING, 4),)), CastPlay("b"))
    question = CastingQuestion(plays, (IDA, NOOR, TWIN, EVA), depth=2, **more)
    return reasons_in_words(CastChange(slot, before, after), question, NAMES)


@pytest.mark.parametrize(
    ("slot", "said"),
    [
        (Slot("a", "3", 1), "role 3, first"),
        (Slot("a", "3", 2), "role 3, second"),
        (Slot("a", "5", 3), "role 5, third"),
    ],
)
def test_a_place_without_its_play(slot: Slot, said: str) -> None:
    assert place_in_words(slot, NAMES) == said


def test_a_change_names_its_depth_and_who_has_no_name_by_the_id() -> None:
    change = CastChange(Slot("b", "4", 2), "ida", "zed")
    assert change_in_words(change, NAMES) == "b, role 4, second: zed instead of Ida."


def test_an_open_slot_is_filled_by_the_fit_alone() -> None:
    assert why(None, "ida") == "Why: fits 95 of 100, plays that position."
    assert why(None, "noor") == "Why: fits 65 of 100."
    assert why("gone", "noor") == "Why: fits 65 of 100."
    assert why("eva", "noor") == "Why: fits 65 of 100."


def test_only_a_better_fit_is_a_reason() -> None:
    assert why("ida", "noor") == ROOM
    assert why("ida", "twin") == ROOM, "as good is no better"
    assert why("noor", "twin") == "Why: fits better (95 of 100, not 65), plays that position."


def test_who_is_not_rated_is_told_so_only_where_something_is_asked() -> None:
    assert why("ida", "eva") == "Why: not rated yet."
    assert why("ida", "eva", Slot("a", "2", 1)) == ROOM
    assert why(None, "eva", Slot("b", "1", 1)) == ROOM


def test_fewer_places_so_far_is_a_reason_and_as_many_is_none() -> None:
    one_each = cast_of({SLOT: "ida", Slot("b", "2", 1): "twin"})
    assert why("ida", "twin", present=one_each) == ROOM
    two = cast_of({SLOT: "ida", Slot("b", "1", 1): "ida", Slot("b", "2", 1): "twin"})
    assert why("ida", "twin", present=two) == "Why: has fewer places so far (1, not 2)."
    assert "places" not in why("twin", "ida", present=two)
    assert why(None, "noor", present=two) == "Why: fits 65 of 100.", "of nobody there is no load"


def test_the_usual_position_is_a_reason_only_where_it_was_not_so_before() -> None:
    second = Slot("b", "2", 1)
    assert why("ida", "twin", second) == "Why: plays that position."
    assert why("eva", "twin", second) == "Why: plays that position."
    assert why(None, "twin", second) == "Why: plays that position."
    assert why("gone", "twin", second) == "Why: plays that position."
    assert why("ida", "twin", Slot("b", "1", 1)) == ROOM, "both do"
    assert why("twin", "ida", second) == ROOM


def test_who_stands_there_at_another_depth_knows_the_role() -> None:
    behind = cast_of({Slot("a", "1", 2): "noor"})
    assert why("ida", "noor", present=behind) == "Why: knows the role already."
    other = cast_of({Slot("a", "2", 2): "noor", Slot("b", "1", 1): "noor"})
    assert why("ida", "noor", present=other) == ROOM


@pytest.mark.parametrize(("known", "said"), [(0.3, True), (0.2999, False), (0.0, False)])
def test_a_role_counts_as_known_from_three_tenths_on(known: float, said: bool) -> None:
    learnt = {Lesson("noor", "a", "1"): known, Lesson("ida", "a", "1"): 1.0}
    assert (why("ida", "noor", learnt=learnt) == "Why: knows the role already.") is said


def test_reasons_stand_in_their_order_from_fit_to_continuity() -> None:
    present = cast_of({SLOT: "noor", Slot("b", "1", 1): "noor", Slot("a", "1", 2): "ida"})
    assert why("noor", "ida", present=present) == (
        "Why: fits better (95 of 100, not 65), has fewer places so far (1, not 2), "
        "plays that position, knows the role already."
    )


def test_a_slot_left_open_and_a_stranger_have_no_reason() -> None:
    assert why("ida", None) == ""
    assert why("ida", "gone") == ""
    assert why(None, "gone", present=Cast()) == ""
