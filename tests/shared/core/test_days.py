"""Days that can be entered, and days that sums can bear, as people count them."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest
from django.utils import translation
from django.utils.formats import date_format

from shared.core.days import (
    bearable_day,
    bearable_moment,
    day_of_month,
    day_said,
    moment_said,
    span_around,
)
from shared.core.language import ENGLISH
from shared.speech import language_of


@pytest.mark.parametrize("today", [date(2023, 3, 1), date(2024, 3, 1), date(2026, 11, 26)])
def test_two_years_either_way_can_be_entered_and_no_day_more(today: date) -> None:
    """Two calendar years are 730 or 731 days, whichever of them has the leap day."""
    span = span_around(today)
    assert today.replace(year=today.year - 2) in span
    assert today.replace(year=today.year + 2) in span
    for day in (today - timedelta(days=733), today + timedelta(days=733)):
        assert day not in span


def test_a_day_beyond_1900_to_2199_is_moved_to_the_nearest() -> None:
    assert bearable_day(date(1900, 1, 1)) == date(1900, 1, 1)
    assert bearable_day(date(1899, 12, 31)) == date(1900, 1, 1)
    assert bearable_day(date(2199, 12, 31)) == date(2199, 12, 31)
    assert bearable_day(date.max) == date(2199, 12, 31)


def test_a_moved_moment_keeps_its_time_and_its_zone() -> None:
    late = datetime(9999, 12, 31, 18, 30, tzinfo=UTC)
    assert bearable_moment(late) == datetime(2199, 12, 31, 18, 30, tzinfo=UTC)
    usual = datetime(2026, 11, 26, 18, 30, tzinfo=UTC)
    assert bearable_moment(usual) == usual


@pytest.mark.parametrize(("code", "written"), [("en", "j F Y"), ("es", r"j \d\e F \d\e Y")])
def test_a_day_is_written_as_the_framework_writes_it(code: str, written: str) -> None:
    """Django's own names of the twelve months, and its formatting of a date."""
    for month in range(1, 13):
        day = date(2026, month, 3)
        with translation.override(code):
            assert day_said(day, language_of(code)) == date_format(day, written)
            short = written.replace(r" \d\e Y", "").replace(" Y", "")
            assert day_of_month(day, language_of(code)) == date_format(day, short)


def test_a_moment_has_its_time_of_day() -> None:
    moment = datetime(2026, 10, 12, 7, 5, tzinfo=UTC)
    assert moment_said(moment, ENGLISH) == "12 October 2026, 07:05"
