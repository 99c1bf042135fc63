"""Days that can be entered, and days that sums can bear, as people count them."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from shared.core.days import (
    bearable_day,
    bearable_moment,
    moment_said,
    span_around,
)
from shared.core.language import ENGLISH


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


def test_a_moment_has_its_time_of_day() -> None:
    moment = datetime(2026, 10, 12, 7, 5, tzinfo=UTC)
    assert moment_said(moment, ENGLISH) == "12 October 2026, 07:05"
