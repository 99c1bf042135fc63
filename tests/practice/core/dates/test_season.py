"""What the season after this one is called: as clubs write seasons, common practice."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from practice.core.dates.season import next_season


@pytest.mark.parametrize(
    ("season", "after"),
    [
        ("2026/27", "2027/28"),
        ("2026-2027", "2027-2028"),
        ("2026", "2027"),
        ("26/27", "27/28"),
        ("2098/99", "2099/00"),
        ("1999/00", "2000/01"),
        ("2099/00", "2100/01"),
        ("Spring 2027", "Spring 2028"),
        ("Autumn", ""),
        ("", ""),
    ],
)
def test_each_year_of_it_goes_one_on(season: str, after: str) -> None:
    assert next_season(season) == after


@given(st.integers(1900, 9998))
def test_a_season_of_two_years_begins_in_the_year_in_which_the_last_one_ended(year: int) -> None:
    after = next_season(f"{year}/{(year + 1) % 100:02}")
    assert after == f"{year + 1}/{(year + 2) % 100:02}"
