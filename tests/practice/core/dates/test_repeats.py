"""What is wrong with a repeat: each sentence, and each bound on both sides. Our own rules."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from practice.core.dates.repeats import MOST_DAYS, Occurrence, Repeat, check_repeat, occurrences
from shared.core.finding import Finding, Severity
from shared.core.language import ENGLISH

OSLO = ZoneInfo("Europe/Oslo")
RULE = Repeat(date(2026, 3, 24), date(2026, 4, 30), frozenset({1}), time(18), 90, OSLO)


def test_an_occurrence_ends_after_its_minutes_as_they_pass() -> None:
    # 2026-03-29 at 02:00 the clocks go to 03:00 in Oslo (IANA time zone database).
    night = Occurrence(RULE.first, datetime(2026, 3, 29, 1, 30, tzinfo=OSLO), 60)
    assert f"{night.ends:%H:%M %z}" == "03:30 +0200"
    assert [f"{one.ends:%H:%M}" for one in occurrences(RULE)] == ["19:30"] * 6


@pytest.mark.parametrize(
    ("changes", "place", "sentence"),
    [
        ({"weekdays": frozenset()}, "weekdays", "Choose at least one weekday."),
        ({"weekdays": frozenset({1, 7})}, "weekdays", "Choose at least one weekday."),
        ({"last": date(2026, 3, 23)}, "last", "The last day lies before the first one."),
        (
            {"last": RULE.first + timedelta(days=MOST_DAYS + 1)},
            "last",
            "The last day lies more than two years after the first one.",
        ),
        ({"minutes": 0}, "minutes", "A practice lasts between 1 minute and a day."),
        ({"minutes": 1441}, "minutes", "A practice lasts between 1 minute and a day."),
        (
            {"every": 0},
            "every",
            "Write 1 for every week, 2 for every second week.",
        ),
    ],
)
def test_each_fault_is_told_at_its_field(
    changes: dict[str, object], place: str, sentence: str
) -> None:
    odd = replace(RULE, **changes)  # type: ignore[arg-type]  # each is a field of a repeat
    assert check_repeat(odd, ENGLISH) == (
        Finding(f"bad_{place}", Severity.SERIOUS, f"/{place}", sentence),
    )


@pytest.mark.parametrize(
    "changes",
    [
        {"last": RULE.first},
        {"last": RULE.first + timedelta(days=MOST_DAYS)},
        {"minutes": 1},
        {"minutes": 1440},
        {"every": 2},
        {"weekdays": frozenset({0, 6})},
    ],
)
def test_the_bounds_themselves_are_allowed(changes: dict[str, object]) -> None:
    assert check_repeat(replace(RULE, **changes), ENGLISH) == ()  # type: ignore[arg-type]


def test_a_rule_in_which_no_day_falls_says_so() -> None:
    # 24 March 2026 is a Tuesday: the next Monday is the 30th.
    short = replace(RULE, weekdays=frozenset({0}), last=date(2026, 3, 29))
    assert check_repeat(short, ENGLISH) == (
        Finding(
            "no_day",
            Severity.SERIOUS,
            "/weekdays",
            "No day fits: none of the weekdays lies between the first and the last day.",
        ),
    )
    assert check_repeat(replace(short, last=date(2026, 3, 30)), ENGLISH) == ()


def test_a_rule_with_an_end_far_away_stops_after_two_years() -> None:
    found = occurrences(replace(RULE, last=date(9999, 12, 31)))
    assert found[-1].day == date(2028, 3, 21)
    assert found[-1].day <= RULE.first + timedelta(days=730) < found[-1].day + timedelta(days=7)
