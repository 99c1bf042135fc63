"""What to teach and why, word by word, and from how many on a list becomes a number. Our words."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from plays.core.play import Role
from roster.core.cast import Lesson
from roster.core.coverage.absence import AbsenceCost, covered
from roster.core.coverage.squad import Squad
from roster.core.coverage.teach import Teaching, few_of_each, lesson_gains, teach_next
from roster.core.coverage.teach_words import gain_in_words, lesson_in_words, reason_in_words
from roster.core.names import Names
from tests.roster.core.coverage.squads import squad_knowing

NAMES = Names(
    {"p0": "Ida", "p1": "Noor", "p2": "Mia"},
    {"a": "Lantern", "b": "Harbour", "c": "Mill", "d": "Weir"},
)


def only_ida(plays: int, throwers: dict[int | str, Role]) -> Squad:
    """Seven who know everything but role 1, which only Ida knows, in so many plays."""
    known = np.ones((7, plays, 5), dtype=np.bool_)
    known[1:, :, 0] = False
    return replace(squad_knowing(known), throwers=throwers)


def teaching(*lessons: Lesson, gain: float = 0.1) -> Teaching:
    return Teaching(lessons, gain, gain, 6.0)


NOOR = teaching(Lesson("p1", "a", "1"))


def test_three_plays_are_listed_and_four_are_counted() -> None:
    three = only_ida(3, {"a": "1", "b": "1", "c": "1"})
    assert reason_in_words(three, NOOR, NAMES) == (
        "Only Ida can throw in in Lantern, Harbour and Mill."
    )
    four = only_ida(4, {"a": "1", "b": "1", "c": "1", "d": "1"})
    assert reason_in_words(four, NOOR, NAMES) == "Only Ida can throw in in 4 of the plays."


def test_only_plays_that_are_carried_and_that_nobody_else_throws_count() -> None:
    team = only_ida(3, {"a": "1", "b": "2", "c": "1", "gone": "1"})
    assert reason_in_words(team, NOOR, NAMES) == "Only Ida can throw in in Lantern and Mill."


def test_a_role_that_does_not_throw_in_is_taught_by_its_number() -> None:
    team = only_ida(2, {"a": "2"})
    assert lesson_in_words(team, NOOR, NAMES) == "Teach Noor role 1 of Lantern"
    assert reason_in_words(team, NOOR, NAMES) == "Only Ida knows role 1 of Lantern."
    thrown = only_ida(2, {"a": "1"})
    assert lesson_in_words(thrown, NOOR, NAMES) == "Teach Noor to throw in (role 1) in Lantern"
    other = teaching(Lesson("p1", "b", "1"))
    assert lesson_in_words(thrown, other, NAMES) == "Teach Noor role 1 of Harbour"


def test_what_nobody_or_several_know_is_told_with_the_throw() -> None:
    known = np.ones((7, 1, 5), dtype=np.bool_)
    known[:, 0, 0] = False
    nobody = replace(squad_knowing(known), throwers={"a": "1"})
    assert reason_in_words(nobody, NOOR, NAMES) == "Nobody can throw in in Lantern."
    assert reason_in_words(squad_knowing(known), NOOR, NAMES) == "Nobody knows role 1 of Lantern."
    known[:3, 0, 0] = True
    several = replace(squad_knowing(known), throwers={"a": "1"})
    assert reason_in_words(several, NOOR, NAMES) == (
        "3 players know role 1 of Lantern, often not together with the rest."
    )


def test_lessons_that_help_together_are_listed_and_each_reason_said_once() -> None:
    known = np.ones((7, 1, 5), dtype=np.bool_)
    known[:, 0, :2] = False
    team = squad_knowing(known)
    both = teaching(Lesson("p1", "a", "1"), Lesson("p2", "a", "2"))
    assert lesson_in_words(team, both, NAMES) == (
        "Teach Noor role 1 of Lantern; Teach Mia role 2 of Lantern: these help only together"
    )
    assert reason_in_words(team, both, NAMES) == (
        "Nobody knows role 1 of Lantern; nobody knows role 2 of Lantern."
    )
    alike = teaching(Lesson("p1", "a", "1"), Lesson("p2", "a", "1"))
    assert reason_in_words(team, alike, NAMES) == "Nobody knows role 1 of Lantern."


@pytest.mark.parametrize(
    ("gain", "percent"),
    [(0.236, "24"), (0.01, "1"), (0.0099, "1"), (0.0094, "0.9"), (0.002, "0.2")],
)
def test_a_gain_below_one_in_a_hundred_is_told_by_tenths(gain: float, percent: str) -> None:
    said = gain_in_words(teaching(*NOOR.lessons, gain=gain), NAMES)
    assert said == f"Lantern can then be run in {percent} % more of game time."


# --- which are taught ---------------------------------------------------------------------


def test_a_list_of_one_of_each_play_and_of_none() -> None:
    ranked = [teaching(Lesson(f"p{n}", play, "1")) for n, play in enumerate("aabab")]
    assert list(few_of_each(ranked, 1)) == [ranked[0], ranked[2]]
    assert list(few_of_each(ranked, 2)) == [ranked[0], ranked[1], ranked[2], ranked[4]]
    assert list(few_of_each(ranked, 0)) == []


def test_four_players_have_nothing_to_gain() -> None:
    gains = lesson_gains(squad_knowing(np.zeros((4, 2, 5), dtype=np.bool_)))
    assert gains.shape == (4, 2, 5)
    assert not gains.any()


def test_a_play_that_every_five_can_run_asks_for_no_pair() -> None:
    """Where each player knows all but one role there is nothing to gain, alone or together."""
    known = np.ones((6, 1, 5), dtype=np.bool_)
    known[np.arange(5), 0, np.arange(5)] = False
    assert teach_next(squad_knowing(known)) == ()


def test_the_fewest_lessons_are_those_of_the_five_that_lacks_least() -> None:
    """Nobody knows three of the roles, so that no pair helps; p0 and p1 know the others, and
    the five taught is one in which both of them are."""
    known = np.zeros((7, 1, 5), dtype=np.bool_)
    known[0, 0, 3] = known[1, 0, 4] = True
    minutes: dict[str | int, float] = {f"p{n}": 30.0 - n for n in range(7)}
    (found,) = teach_next(squad_knowing(known, minutes))
    assert sorted(lesson.role for lesson in found.lessons) == ["1", "2", "3"]
    assert {lesson.player for lesson in found.lessons} == {"p2", "p3", "p4"}, "on the floor most"
    assert found.reps == 18
    assert found.per_rep == pytest.approx(found.gain / 18)


# --- who is missed ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("lost", "broken", "felt"),
    [
        (0.005, (), True),
        (0.00499, (), False),
        (-0.2, (), False),
        (0.0, ("a",), True),
        (0.3, ("a",), True),
    ],
)
def test_an_absence_is_felt_from_half_a_hundredth_on_or_where_a_play_falls(
    lost: float, broken: tuple[str, ...], felt: bool
) -> None:
    whole = covered(only_ida(1, {}))
    assert AbsenceCost(("p0",), whole, lost, broken).is_felt is felt


def test_a_lesson_of_somebody_else_has_no_place_and_an_absent_stranger_changes_nothing() -> None:
    team = only_ida(2, {})
    assert team.place(Lesson("p3", "b", "4")) == (3, 1, 3)
    for lesson in (Lesson("zed", "a", "1"), Lesson("p0", "gone", "1")):
        with pytest.raises(KeyError):
            team.place(lesson)
    assert team.without(["zed"]) is team
    assert team.without(["p0"]) is not team
