"""One play, several calls: a variant is the play with jobs swapped or from the other side."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coachbook.demo.files import demo_play, demo_plays
from plays.core.check.check import check, check_many
from plays.core.check.files import check_data
from plays.core.defence.verdict import Tactic
from plays.core.document.file import read_play, to_json, write_play
from plays.core.document.form import problems
from plays.core.moves.variants import all_calls, calls_apart, expanded
from plays.core.play import ROLES, Play, Swap, Variant
from plays.core.shorthand.read import read
from plays.core.shorthand.write import shorthand
from plays.core.words.difference import difference
from plays.core.words.part import part_of
from plays.core.words.variants import variant_sentence
from shared.core.language import ENGLISH
from tests.strategies import sound_plays

PLAYS = demo_plays()
TIDEGATE = replace(demo_play("tidegate"), variants=())
BOTH = Variant("Tide {3}", "two fists", (Swap("2", "3"),), mirror=True)


def as_called(play: Play, variant: Variant) -> Play:
    return replace(expanded(play, variant), call=play.call, variants=play.variants)


def with_variants(*variants: Variant) -> Play:
    return replace(TIDEGATE, variants=variants)


def codes(play: Play) -> list[tuple[str, str]]:
    return [(found.code, found.place) for found in problems(play)]


@given(play=sound_plays(), pair=st.sampled_from([("1", "2"), ("3", "5")]), mirror=st.booleans())
def test_twice_the_same_variant_is_the_play(play: Play, pair: tuple, mirror: bool) -> None:  # type: ignore[type-arg]
    variant = Variant("Other", swaps=(Swap(*pair),), mirror=mirror)
    assert as_called(as_called(play, variant), variant) == play


@given(play=sound_plays())
def test_an_expanded_variant_is_as_sound_as_the_play(play: Play) -> None:
    assert [problems(each) for each in all_calls(play)] == [()] * (1 + len(play.variants))


@pytest.mark.parametrize("play", PLAYS, ids=lambda play: play.key)
def test_a_mirrored_variant_changes_no_verdict(play: Play) -> None:
    other = expanded(play, Variant("Other", mirror=True))
    told = [
        [(v.look, v.word, round(v.margin, 6)) for v in check(each, age=each.level).verdicts]
        for each in (play, other)
    ]
    assert told[0] == told[1]
    assert other.origin == play.origin


def test_swapped_jobs_keep_place_and_time() -> None:
    play = expanded(TIDEGATE, Variant("Tide {3}", swaps=(Swap("2", "3"),)))
    cut = next(action for action in play.actions() if action.id == "2-cut")
    assert cut.role == "3"
    assert {a.cutter for a in play.phases[0].actions if a.kind == "screen"} == {"3"}
    assert play.start_of("3") == TIDEGATE.start_of("2")
    assert play.looks[0].receiver == "3"
    assert play.call == "Tide {3}"


def test_who_stays_runs_the_job_from_their_own_start() -> None:
    play = expanded(TIDEGATE, Variant("Tide {3}", swaps=(Swap("2", "3", stay=True),)))
    assert [play.start_of(role) for role in ROLES] == [TIDEGATE.start_of(role) for role in ROLES]
    assert problems(play) == ()


def test_texts_name_the_role_that_now_does_it() -> None:
    look = replace(TIDEGATE.looks[0], condition="2 is past 3's man; 2 steps, 2.5 m, 2 s and 12.")
    play = replace(TIDEGATE, looks=(look,))
    said = expanded(play, Variant("V", swaps=(Swap("2", "3"),))).looks[0].condition
    assert said == "3 is past 2's man; 2 steps, 2.5 m, 2 s and 12."


def test_a_variant_is_written_and_read() -> None:
    play = with_variants(BOTH, Variant('Say "go, now"', swaps=(Swap("2", "3", stay=True),)))
    text = shorthand(play)
    assert '  call "Tide {3}", sign "two fists", 2 and 3 swap, from the other side' in text
    assert read(text).play.variants == play.variants
    assert read(text).faults == ()
    assert read_play(to_json(play)) == play
    assert "variants" not in to_json(TIDEGATE)


def test_a_line_that_is_no_variant_is_told_at_its_line() -> None:
    text = shorthand(TIDEGATE) + "\nvariants:\n  2 and 3 dance\n"
    (fault,) = read(text).faults
    assert fault.line == len(text.splitlines())
    assert "Write a variant as" in fault.sentence


@pytest.mark.parametrize(
    ("variants", "code", "place"),
    [
        ([Variant(TIDEGATE.call, mirror=True)], "call_twice", "/variants/0/call"),
        ([BOTH, BOTH], "call_twice", "/variants/1/call"),
        ([Variant("Tide")], "variant_empty", "/variants/0"),
        ([Variant(" ", mirror=True)], "empty_text", "/variants/0/call"),
        ([Variant("Tide {7}", mirror=True)], "call_unknown_role", "/variants/0/call"),
        ([Variant("Tide {2", mirror=True)], "call_braces", "/variants/0/call"),
        ([Variant("T", swaps=(Swap("2", "2"),))], "swap_self", "/variants/0/swaps/0"),
        (
            [Variant("T", swaps=(Swap("2", "3"), Swap("3", "4")))],
            "swap_twice",
            "/variants/0/swaps/1",
        ),
        (
            [Variant("T", swaps=(Swap("1", "3", stay=True),))],
            "thrower_stays",
            "/variants/0/swaps/0/stay",
        ),
    ],
)
def test_what_is_wrong_with_a_variant_is_told_at_its_place(
    variants: list[Variant], code: str, place: str
) -> None:
    assert (code, place) in codes(with_variants(*variants))


def test_a_fault_that_only_a_swap_makes_names_the_call() -> None:
    """The thrower stays inside, so whoever throws in now stands on the floor."""
    found = problems(with_variants(Variant("T", swaps=(Swap("1", "3", stay=True),))))
    assert any("When “T” is called" in each.sentence for each in found)


def test_a_role_is_told_only_what_differs_for_it() -> None:
    play = with_variants(replace(BOTH, mirror=False), Variant("Far", mirror=True))
    assert part_of(play, "2").calls == (
        "On “Tide 3” you do what the 3 does here.",
        "On “Far” you do the same from the other side.",
    )
    assert part_of(play, "4").calls == ("On “Far” you do the same from the other side.",)
    named = part_of(play, "2", {"2": "Ada", "3": "Ida"})
    assert named.calls[0] == "On “Tide Ida” you do what Ida (3) does here."
    assert part_of(TIDEGATE, "4").calls == ()
    stays = with_variants(Variant("Tide", swaps=(Swap("2", "3", stay=True),)))
    assert "your own place" in part_of(stays, "3").calls[0]


def test_what_a_call_changes_is_said_in_one_sentence_whatever_it_changes() -> None:
    def said(*stays: bool, mirror: bool = False) -> str:
        pairs = zip((("2", "3"), ("4", "5")), stays, strict=False)
        swaps = tuple(Swap(one, other, stay=stay) for (one, other), stay in pairs)  # type: ignore[arg-type]
        return variant_sentence(Variant("X", swaps=swaps, mirror=mirror), ENGLISH)

    jobs = "2 and 3 do each other's job"
    assert said(False) == f"{jobs}."
    assert said(False, mirror=True) == f"{jobs}, from the other side."
    assert said(True) == f"{jobs}, each from their own start."
    assert said(False, False) == f"{jobs}, and so do 4 and 5."
    mixed = "4 and 5 do each other's job, and so do 2 and 3, these two from their own starts."
    assert said(True, False) == mixed
    assert said(True, False, mirror=True) == f"From the other side, {mixed}"
    assert said(mirror=True) == "It runs from the other side."
    kinds = [(), (False,), (True,), (False, False), (False, True), (True, True)]
    every = [said(*stays, mirror=mirror) for stays in kinds for mirror in (False, True)]
    assert len({*every}) == len(every), "two calls that differ are never told alike"
    assert all(each.count(".") == 1 for each in every if each)


def test_a_call_that_only_changes_sides_is_not_checked_twice_and_is_found_the_same() -> None:
    far, jobs = Variant("Far", mirror=True), Variant("Three", swaps=(Swap("2", "3"),))
    both = with_variants(far, jobs, replace(jobs, call="Three far", mirror=True))
    assert [each.call for each in calls_apart(both)] == [TIDEGATE.call, "Three"]
    plain, other = check(with_variants(), age=TIDEGATE.level), expanded(TIDEGATE, far)
    there = check(other, age=TIDEGATE.level)
    assert [(each.code, each.look) for each in there.findings] == [
        (each.code, each.look) for each in plain.findings
    ]


def test_the_verdict_of_a_play_covers_its_calls() -> None:
    """A screener who has to run the cutter's way is late, and that is known of that call alone."""
    far = Variant("Tide {4}", swaps=(Swap("2", "4", stay=True),))
    play, plain = with_variants(far), check(with_variants(), age=TIDEGATE.level)
    found = check(play, age=play.level)
    assert plain.runnable
    assert not found.runnable
    assert found.verdicts == plain.verdicts
    assert {each.variant for each in found.findings} == {far.call}
    assert all(each.fix is None for each in found.findings)
    assert [each.code for each in found.findings] == [
        each.code for each in check(expanded(play, far), age=play.level).findings
    ]
    many = check_many(play, ages=[play.level], defences=[Tactic.CHASE])[play.level, Tactic.CHASE]
    assert not many.runnable
    lines = list(check_data("tide", write_play(play)).lines())
    assert lines
    assert all(", call Tide 4: " in line for line in lines)


def test_differences_name_the_call() -> None:
    told = [
        " ".join(change.sentence for change in difference(old, new))
        for old, new in (
            (TIDEGATE, with_variants(BOTH)),
            (with_variants(BOTH), TIDEGATE),
            (with_variants(BOTH), with_variants(replace(BOTH, mirror=False))),
            (with_variants(BOTH), with_variants(replace(BOTH, sign=""))),
        )
    ]
    assert all("“Tide 3”" in each for each in told)
    assert len(set(told)) == 4
