"""Planned load against the published participation guideline."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from plays.core.play import AgeGroup
from practice.core.plan.load import (
    AGES_7_8,
    AGES_9_11,
    AGES_12_14,
    GRADES_9_12,
    Guideline,
    Session,
    check_practice_length,
    check_weeks,
    guideline,
    week_load,
)
from shared.core.finding import Severity
from shared.core.language import ENGLISH

MONDAY = datetime(2026, 3, 2, 18, 0, tzinfo=UTC)

# DiFiori et al. 2018, Sports Med 48:2053-2065, Table 4: most games a day, hours a week.
TABLE_4 = [(AGES_7_8, 1, 3), (AGES_9_11, 2, 5), (AGES_12_14, 2, 10), (GRADES_9_12, 2, 14)]
# NBA and USA Basketball 2016: longest practice, most practices a week, rest days, longest game.
GUIDELINE_2016 = [
    (AGES_7_8, 60, 1, 2, 28),
    (AGES_9_11, 75, 2, 2, 32),
    (AGES_12_14, 90, 4, 1, 32),
    (GRADES_9_12, 120, 4, 1, 36),
]


@pytest.mark.parametrize(("row", "games", "hours"), TABLE_4)
def test_the_maxima_are_those_of_the_paper(row: Guideline, games: int, hours: int) -> None:
    assert (row.games_per_day, row.hours_per_week) == (games, hours)


@pytest.mark.parametrize(("row", "minutes", "weekly", "rest", "game"), GUIDELINE_2016)
def test_the_ranges_are_those_of_the_guideline(
    row: Guideline, minutes: int, weekly: int, rest: int, game: int
) -> None:
    assert row.practice_minutes[1] == minutes
    assert row.practices_per_week[1] == weekly
    assert row.rest_days == rest
    assert row.game_minutes[1] == game


@pytest.mark.parametrize(
    ("row", "games"),
    [(AGES_7_8, (1, 1)), (AGES_9_11, (1, 2)), (AGES_12_14, (2, 2)), (GRADES_9_12, (2, 3))],
)
def test_games_a_week_are_those_of_the_guideline(row: Guideline, games: tuple[int, int]) -> None:
    """NBA and USA Basketball 2016: from and to."""
    assert row.games_per_week == games


def sessions(*days: int, minutes: float = 90, games: tuple[int, ...] = ()) -> list[Session]:
    return [
        *(Session(MONDAY + timedelta(days=day), minutes) for day in days),
        *(Session(MONDAY + timedelta(days=day), 60, is_game=True) for day in games),
    ]


def test_a_light_week_has_no_findings() -> None:
    assert check_weeks(sessions(0, 2, games=(5,)), AgeGroup.U16, ENGLISH) == ()


def test_adults_have_no_guideline() -> None:
    assert guideline(AgeGroup.ADULT) is None
    assert check_weeks(sessions(*range(7), games=(5, 5, 6)), AgeGroup.ADULT, ENGLISH) == ()
    assert check_practice_length(240, AgeGroup.ADULT, ENGLISH) == ()


def test_every_excess_of_a_heavy_week_is_a_warning_with_number_and_source() -> None:
    found = check_weeks(sessions(*range(7), games=(5, 5, 5)), AgeGroup.U12, ENGLISH)
    assert [one.code for one in found] == [
        "hours",
        "practices",
        "games_week",
        "rest",
        "games_day",
    ]
    assert all(one.severity is Severity.WARNING and "2018" in one.source for one in found)
    assert found[0].sentence == (
        "The week of 2026-03-02 has 13.5 hours of basketball; "
        "the 2016 guideline for ages 9-11 says at most 5."
    )


@pytest.mark.parametrize(
    ("age", "most"),
    [(AgeGroup.U10, 1), (AgeGroup.U12, 2), (AgeGroup.U14, 2), (AgeGroup.U16, 3), (AgeGroup.U18, 3)],
)
def test_one_game_more_a_week_than_the_guideline_is_told_with_both_numbers(
    age: AgeGroup, most: int
) -> None:
    """NBA and USA Basketball 2016: games a week by age."""
    assert check_weeks(sessions(games=tuple(range(most))), age, ENGLISH) == ()
    (found,) = check_weeks(sessions(games=tuple(range(most + 1))), age, ENGLISH)
    assert found.code == "games_week"
    assert f"has {most + 1} games" in found.sentence
    assert found.sentence.endswith(f"says up to {most}.")


@pytest.mark.parametrize("row", [AGES_9_11, AGES_12_14, GRADES_9_12])
def test_as_many_days_of_rest_as_the_guideline_says_are_enough(row: Guideline) -> None:
    age = next(age for age in AgeGroup if guideline(age) is row)
    busy = 7 - row.rest_days
    rested = check_weeks(sessions(*range(busy), minutes=10), age, ENGLISH)
    tired = check_weeks(sessions(*range(busy + 1), minutes=10), age, ENGLISH)
    assert "rest" not in {one.code for one in rested}
    assert "rest" in {one.code for one in tired}


def test_a_second_game_on_a_day_asks_for_caution_where_it_is_allowed() -> None:
    (found,) = check_weeks(sessions(games=(5, 5)), AgeGroup.U16, ENGLISH)
    assert found.code == "games_day"
    assert "asks for caution" in found.sentence


def test_weeks_are_counted_apart() -> None:
    spread = sessions(0, 1, 7, 8)
    assert check_weeks(spread, AgeGroup.U12, ENGLISH) == ()
    load = week_load(date(2026, 3, 9), spread)
    assert (load.practices, load.hours, load.rest_days) == (2, 3.0, 5)


def test_a_long_practice_is_named_with_its_minutes() -> None:
    (found,) = check_practice_length(90, AgeGroup.U12, ENGLISH)
    assert (found.code, found.place) == ("practice_long", "/minutes")
    assert "90 minutes" in found.sentence
    assert "75" in found.sentence
    assert check_practice_length(75, AgeGroup.U12, ENGLISH) == ()
