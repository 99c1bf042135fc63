"""The trade's words for looks, defences, jobs and what a role asks for."""

from __future__ import annotations

import pytest

from plays.core.play import (
    Counter,
    Defence,
    DefenceRead,
    Look,
    Need,
    PassKind,
    Quality,
    Role,
    Swap,
    Variant,
)
from plays.core.words.reads import condition
from plays.core.words.terms import answered, look_words, need_words, on
from plays.core.words.variants import OtherCall, variant_sentence
from shared.core.language import ENGLISH

NAMES: dict[Role, str] = {"1": "Ida", "3": "Runa"}


def test_a_look_is_told_by_who_and_whom_and_how() -> None:
    plain = Look("l1", "1", "3", "c3")
    lob = Look("l2", "2", "3", "c3", PassKind.LOB, shot=True)
    assert look_words(plain, NAMES, ENGLISH) == "Ida (1) to Runa (3)"
    assert look_words(lob, NAMES, ENGLISH) == "2 to Runa (3), lob, and the shot"


def test_a_look_is_there_by_what_it_reads_and_then_by_what_the_coach_wrote() -> None:
    reads = DefenceRead(Defence.FRONT, ("5",))
    looks = [
        Look("l", "1", "5", "a"),
        Look("l", "1", "5", "a", condition="nobody is behind"),
        Look("l", "1", "5", "a", read=reads),
        Look("l", "1", "5", "a", condition="nobody is behind", read=reads),
        Look("l", "1", "5", "a", read=DefenceRead(Defence.TRAP)),
    ]
    assert [condition(look, ENGLISH) for look in looks] == [
        "",
        "nobody is behind",
        "When the defender of 5 stands in front",
        "When the defender of 5 stands in front; nobody is behind",
        "When they trap",
    ]


def test_what_a_counter_answers_says_on_whom_where_not_all_do_it() -> None:
    all_of_them = Counter("c", Defence.SWITCH, "p1", "Slip.")
    two = Counter("c", Defence.SWITCH, "p1", "Slip.", whose=("4", "5"))
    assert answered(all_of_them, ENGLISH) == "They switch"
    assert answered(two, ENGLISH) == "They switch (on 4 and 5)"
    assert on("They trap", ("2",), ENGLISH) == "They trap (on 2)"


def test_what_a_role_asks_for_comes_with_the_weightiest_first() -> None:
    needs = (
        Need("4", Quality.SPEED, 3, 1),
        Need("5", Quality.REACH, 5, 3),
        Need("4", Quality.SCREENING, 4, 3),
        Need("4", Quality.PASSING, 2, 2),
    )
    assert need_words(needs, "4", ENGLISH) == (
        "Screening 4 of 5, matters most",
        "Passing 2 of 5, matters",
        "Speed 3 of 5, helps",
    )
    assert need_words(needs, "1", ENGLISH) == ()


SWAP = Swap("2", "3")
STAYS = Swap("4", "5", stay=True)


@pytest.mark.parametrize(
    ("variant", "jobs"),
    [
        (Variant("Red", swaps=(SWAP,)), ["1", "2 as 3", "3 as 2", "4"]),
        (Variant("Red", mirror=True), ["1, other side", "2, other side"]),
        (Variant("Red", swaps=(SWAP,), mirror=True), ["1, other side", "2 as 3, other side"]),
    ],
)
def test_a_job_on_another_call_is_as_short_as_a_card_needs_it(
    variant: Variant, jobs: list[str]
) -> None:
    other = OtherCall("Red", "", variant)
    roles: tuple[Role, ...] = ("1", "2", "3", "4")
    assert [other.job(role, ENGLISH) for role in roles[: len(jobs)]] == jobs


@pytest.mark.parametrize(
    ("variant", "sentence"),
    [
        (Variant("Red"), ""),
        (Variant("Red", mirror=True), "It runs from the other side."),
        (Variant("Red", swaps=(SWAP,)), "2 and Runa (3) do each other's job."),
        (
            Variant("Red", swaps=(STAYS, SWAP)),
            (
                "2 and Runa (3) do each other's job, and so do 4 and 5, these two from their own"
                " starts."
            ),
        ),
        (
            Variant("Red", swaps=(STAYS,), mirror=True),
            "From the other side, 4 and 5 do each other's job, each from their own start.",
        ),
    ],
)
def test_what_another_call_changes_is_one_sentence(variant: Variant, sentence: str) -> None:
    assert variant_sentence(variant, ENGLISH, NAMES) == sentence
