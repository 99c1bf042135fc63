"""What is said of a schedule that was changed by hand, word by word, and from which number on.

The rules are our own; the 10 minutes on one play are those of the FIBA/WABC coaches manual.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from practice.core.install.question import Ask, Schedule, ScheduleEntry
from practice.core.install.rules import check_schedule
from practice.core.reps.rep import Id, Mode
from shared.core.finding import Finding, Severity
from shared.core.language import ENGLISH
from tests.practice.core.install.cases import small_ask

WALK, HALF, LIVE = Mode.WALK_THROUGH, Mode.HALF_SPEED, Mode.LIVE
NAMES: dict[Id, str] = {"k0": "Lantern", "k1": "Anchor"}
# Walks and half-speed reps take 0.75 minutes, live ones 1.25, the set-up of a play 1.5.
ASK = small_ask(plays=3, minutes=6.0, least_reps=2)


def entry(play: str, mode: Mode, reps: int, practice: str = "t0") -> ScheduleEntry:
    return ScheduleEntry(practice, play, "firsts", mode, reps)


def said(*entries: ScheduleEntry, ask: Ask = ASK) -> list[Finding]:
    return list(check_schedule(ask, Schedule(entries, 0.0), NAMES, ENGLISH))


def test_minutes_that_just_fit_are_not_told() -> None:
    full = entry("k0", WALK, 6)  # 1.5 + 6 * 0.75 = 6 minutes
    assert said(full) == []
    assert said(replace(full, reps=7)) == [
        Finding(
            "too_long",
            Severity.WARNING,
            "/practices/t0",
            "The plays take 6.8 minutes; 6 are there for installing.",
        )
    ]


def test_a_play_is_long_beyond_its_own_bound_only() -> None:
    ask = replace(small_ask(minutes=30.0), rules=replace(ASK.rules, longest_on_play=6.0))
    assert said(entry("k0", WALK, 6), ask=ask) == []
    assert said(entry("k0", WALK, 8), ask=ask) == [
        Finding(
            "play_long",
            Severity.WARNING,
            "/practices/t0/k0",
            "Lantern takes 7.5 minutes here; more than 6 on one play is long.",
        )
    ]


def test_as_many_new_plays_as_the_rule_has_are_not_told() -> None:
    ask = replace(small_ask(plays=3, minutes=30.0), rules=replace(ASK.rules, most_new=2))
    two = entry("k0", WALK, 2), entry("k1", WALK, 2)
    assert said(*two, ask=ask) == []
    assert said(*two, entry("k2", WALK, 2, "t1"), ask=ask) == []
    assert said(*two, entry("k2", WALK, 2), ask=ask) == [
        Finding(
            "many_new",
            Severity.WARNING,
            "/practices/t0",
            "3 plays begin here; the rule is at most 2.",
        )
    ]


def test_few_reps_of_a_unit_are_a_note_with_both_numbers() -> None:
    ask = replace(ASK, rules=replace(ASK.rules, least_reps=3))
    assert said(entry("k1", WALK, 3), ask=ask) == []
    assert said(entry("k1", WALK, 2), ask=ask) == [
        Finding(
            "few_reps",
            Severity.NOTE,
            "/practices/t0/k1",
            "Anchor has only 2 here for one unit; 3 are the rule.",
        )
    ]


@pytest.mark.parametrize(
    ("entries", "where"),
    [
        ([entry("k0", WALK, 1), entry("k0", HALF, 1)], []),
        ([entry("k0", HALF, 2)], ["/practices/t0/k0"]),
        ([entry("k0", WALK, 2), entry("k0", LIVE, 1)], ["/practices/t0/k0"]),
        ([entry("k0", WALK, 1), entry("k0", HALF, 1), entry("k0", LIVE, 1)], []),
        ([entry("k0", WALK, 2), entry("k0", HALF, 2, "t1")], []),
        ([entry("k0", HALF, 2), entry("k0", WALK, 2, "t1")], ["/practices/t0/k0"]),
    ],
)
def test_what_is_run_before_its_steps_is_told(
    entries: list[ScheduleEntry], where: list[str]
) -> None:
    """One walk-through before half speed, one of those before live: in that practice or before."""
    sentence = "Lantern is run faster here than its steps allow: walk-through, half, live."
    wanted = [Finding("too_soon", Severity.WARNING, place, sentence) for place in where]
    assert said(*entries) == wanted


def test_each_entry_that_cannot_take_place_is_an_error_in_words() -> None:
    thin = (ASK.slots[0], replace(ASK.slots[1], absent=frozenset({"bo"})))
    ask = replace(ASK, slots=thin)
    elsewhere = "This entry names a practice, play or unit that is not in the plan any more."
    few = "Not enough of the players cast for this play are there for this rep."
    odd = (
        replace(entry("k0", WALK, 2), unit="gone"),
        entry("k0", WALK, 0),
        entry("k0", WALK, -1),
        entry("k0", Mode.GAME, 2),
        entry("k0", WALK, 2, "t1"),
        entry("k0", WALK, 2, "gone"),
        entry("k9", WALK, 2),
    )
    found = [one for one in said(*odd, ask=ask) if one.severity is Severity.SERIOUS]
    assert [(one.place, one.code, one.sentence) for one in found] == [
        ("/entries/0", "elsewhere", elsewhere),
        ("/entries/1", "no_reps", "An entry needs at least 1 rep."),
        ("/entries/2", "no_reps", "An entry needs at least 1 rep."),
        ("/entries/3", "elsewhere", elsewhere),
        ("/entries/4", "no_five", few),
        ("/entries/5", "elsewhere", elsewhere),
        ("/entries/6", "elsewhere", elsewhere),
    ]


def test_a_play_without_a_name_is_told_by_its_id_and_entries_come_first() -> None:
    found = said(entry("k2", LIVE, 1), entry("k9", WALK, 2))
    assert [(one.code, one.place) for one in found] == [
        ("elsewhere", "/entries/1"),
        ("few_reps", "/practices/t0/k2"),
        ("too_soon", "/practices/t0/k2"),
    ]
    assert found[1].sentence.startswith("k2 has only 1 here")
