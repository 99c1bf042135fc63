"""What a practice was, in counts. The weeks begin on Mondays as ISO 8601 has them."""

from __future__ import annotations

import itertools
import random
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from practice.core.reps.happened import (
    Day,
    Errors,
    MissedLately,
    Week,
    by_week,
    errors_over,
    errors_told,
    missed,
    missed_lately,
    missed_lately_told,
    missed_told,
    runs_by_play,
    runs_told,
)
from practice.core.reps.rep import Mode, Rep, Slip
from shared.core.language import ENGLISH
from tests.languages import language

AT = datetime(2026, 9, 1, 18, tzinfo=UTC)


def rep(
    number: int, play: int, slip: Slip | None = None, *, clean: bool = False, named: bool = True
) -> Rep:
    return Rep(
        id=str(number),
        practice=1,
        play=play,
        mode=Mode.LIVE if number % 2 else Mode.WALK_THROUGH,
        at=AT + timedelta(minutes=number),
        cast=(("1", 11), ("3", 33)),
        clean=clean,
        erred="3" if named and not clean else None,
        slip=slip,
    )


REPS = [
    rep(1, 7, clean=True),
    rep(2, 5, Slip.EARLY),
    rep(3, 7, Slip.EARLY),
    rep(4, 7, Slip.LATE),
    rep(5, 7, Slip.EARLY),
    rep(6, 7, named=False),
]


def test_each_play_in_the_order_in_which_it_was_run() -> None:
    first, second = runs_by_play(REPS)
    assert (first.play, first.runs, first.clean) == (7, 5, 1)
    assert first.modes == ((Mode.WALK_THROUGH, 2), (Mode.LIVE, 3))
    assert first.errors == (Errors(33, Slip.EARLY, 2), Errors(33, Slip.LATE, 1))
    assert (second.play, second.runs, second.clean) == (5, 1, 0)


def test_calls_are_counted_as_far_as_somebody_said_them() -> None:
    said = [
        replace(each, call=call) for each, call in zip(REPS, ("", "", "", "T", "T"), strict=False)
    ]
    first, second = runs_by_play([*said, REPS[5]])
    assert first.calls == (("", 2), ("T", 2))
    assert second.calls == (("", 1),)
    assert first.runs == 5, "a rep on any call is one of the play, and so is one of none"


def test_over_all_plays_a_person_and_a_way_stand_once_most_often_first() -> None:
    """Two plays know "too early" of the same person: one line, not two alike."""
    assert errors_over(runs_by_play(REPS)) == (
        Errors(33, Slip.EARLY, 3),
        Errors(33, Slip.LATE, 1),
    )


def test_an_error_of_a_role_with_nobody_blames_nobody() -> None:
    (found,) = runs_by_play([Rep("a", 1, 7, Mode.LIVE, AT, (("1", 11),), False, "3", Slip.EARLY)])
    assert (found.runs, found.clean, found.errors) == (1, 0, ())


def test_who_was_away_missed_the_plays_that_they_have_a_part_in() -> None:
    runs = runs_by_play(REPS)
    parts = [(1, 7), (1, 5), (2, 7), (3, 5), (3, 7), (4, 9)]
    assert missed([1, 2, 3, 4], parts, runs) == (((1, 3), (7, 5)), ((2,), (7,)))


def test_who_is_back_has_missed_the_last_times_and_a_newcomer_none() -> None:
    """Three practices of play 7, the newest first: 1 ran the oldest, 2 the middle one, 3 none.

    4 has no part in it; of play 5, run once, 1 was away that one time.
    """
    ran = [("c", 7, 9), ("c", 5, 9), ("b", 7, 2), ("b", 7, 9), ("a", 7, 1), ("a", 7, 4)]
    parts = [(2, 7), (1, 7), (3, 7), (9, 7), (1, 5)]
    assert missed_lately(ran, parts) == (MissedLately(1, 7, 2),)
    longer = [("d", 7, 9), *ran]
    assert missed_lately(longer, parts) == (MissedLately(1, 7, 3), MissedLately(2, 7, 2))
    told = missed_lately_told(MissedLately(1, 7, 3), "Noor", "Foghorn", ENGLISH)
    assert told == "Noor has missed the last 3 times that Foghorn was run"


def test_weeks_are_those_of_the_calendar() -> None:
    chance = random.Random(3)
    days = [Day(date(2026, 12, 1) + timedelta(days=chance.randrange(60)), 3, 2) for _ in range(25)]
    weeks = by_week(days)
    iso = {day.on.isocalendar()[:2] for day in days}
    assert {week.first.isocalendar()[:2] for week in weeks if week.practices} == iso
    assert all(week.first.isoweekday() == 1 for week in weeks)
    assert sum(week.runs for week in weeks) == 75
    assert sum(week.clean for week in weeks) == 50
    assert [b.first - a.first for a, b in itertools.pairwise(weeks)] == [timedelta(days=7)] * (
        len(weeks) - 1
    )


def test_a_week_without_practice_stands_empty_and_no_practice_makes_no_week() -> None:
    weeks = by_week([Day(date(2026, 9, 1), 2, 1), Day(date(2026, 9, 16), 4, 4)])
    assert [(week.practices, week.runs) for week in weeks] == [(1, 2), (0, 0), (1, 4)]
    assert by_week([]) == ()


@pytest.mark.parametrize("slip", [*Slip, None])
def test_every_slip_is_told_once_and_often_in_both_languages(slip: Slip | None) -> None:
    for speech in (ENGLISH, language("es")):
        once, often = (errors_told(Errors(1, slip, times), "Carla", speech) for times in (1, 3))
        assert once.startswith("Carla ")
        assert "3" in often
        assert "3" not in once
    assert errors_told(Errors(1, Slip.EARLY, 3), "Carla", ENGLISH) == "Carla too early 3 times"


def test_sums_in_words() -> None:
    assert runs_told(20, 17, ENGLISH) == "20 runs, 17 clean"
    assert runs_told(1, 0, ENGLISH) == "1 run, 0 clean"
    told = missed_told(["Zoë", "Ida"], ["Wall", "Rope"], ENGLISH)
    assert told == "Zoë and Ida were away and missed Wall and Rope"


def test_a_sunday_belongs_to_the_monday_before_it() -> None:
    # 2026-09-06 is a Sunday, the 7th a Monday (ISO 8601: a week begins on Monday).
    days = [Day(date(2026, 9, 7), 5, 4), Day(date(2026, 9, 6), 2, 1), Day(date(2026, 9, 2), 3, 3)]
    assert by_week(days) == (
        Week(date(2026, 8, 31), 2, 5, 4),
        Week(date(2026, 9, 7), 1, 5, 4),
    )


def test_who_is_away_is_told_in_the_right_number() -> None:
    assert missed_told(["Zoë"], ["Wall"], ENGLISH) == "Zoë was away and missed Wall"
    assert runs_told(0, 0, ENGLISH) == "0 runs, 0 clean"
    assert runs_told(2, 1, ENGLISH) == "2 runs, 1 clean"


def test_errors_over_no_plays_are_none_and_of_two_people_stay_apart() -> None:
    assert errors_over([]) == ()
    other = replace(REPS[4], cast=(("3", 44),))
    found = errors_over(runs_by_play([REPS[1], other, replace(other, id="x")]))
    assert found == (Errors(44, Slip.EARLY, 2), Errors(33, Slip.EARLY, 1))
