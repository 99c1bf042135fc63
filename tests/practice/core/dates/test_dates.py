"""Repeating practices and the feed that calendar programs read."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from practice.core.dates.feed import DoubleUidError, FeedEvent, write_feed
from practice.core.dates.repeats import (
    Repeat,
    check_repeat,
    moment,
    occurrences,
)
from practice.core.dates.zone import zone_component
from shared.core.finding import Severity
from shared.core.language import ENGLISH

OSLO = ZoneInfo("Europe/Oslo")
CHICAGO = ZoneInfo("America/Chicago")
# Tuesdays and Thursdays over the change of the clocks on 29 March 2026.
SPRING = Repeat(
    date(2026, 3, 24), date(2026, 4, 9), frozenset({1, 3}), time(18), 90, OSLO, "Hall 2"
)


def test_a_practice_stays_at_its_wall_clock_time_when_the_clocks_change() -> None:
    found = occurrences(SPRING)
    assert [one.day.day for one in found] == [24, 26, 31, 2, 7, 9]
    assert {f"{one.starts:%H:%M}" for one in found} == {"18:00"}
    assert [one.starts.astimezone(UTC).hour for one in found] == [17, 17, 16, 16, 16, 16]
    assert {one.ends - one.starts for one in found} == {timedelta(minutes=90)}


def test_a_time_that_the_clocks_skip_or_repeat() -> None:
    # RFC 5545, 3.3.5: its own example, New York, 11 March 2007 at 02:30 is 03:30 EDT.
    new_york = ZoneInfo("America/New_York")
    skipped = moment(date(2007, 3, 11), time(2, 30), new_york)
    assert (f"{skipped:%H:%M %Z}", skipped.utcoffset()) == ("03:30 EDT", timedelta(hours=-4))
    # And 4 November 2007 at 01:30 comes twice: the first is meant, EDT.
    twice = moment(date(2007, 11, 4), time(1, 30), new_york)
    assert f"{twice:%H:%M %Z}" == "01:30 EDT"


def test_every_other_week_counts_weeks_from_monday() -> None:
    rule = replace(SPRING, first=date(2026, 3, 26), every=2)
    assert [one.day.isoformat() for one in occurrences(rule)] == [
        "2026-03-26",
        "2026-04-07",
        "2026-04-09",
    ]


def test_the_week_begins_on_monday_as_in_the_standards_own_example() -> None:
    # RFC 5545, 3.8.5.3, "an example where the days generated makes a difference because of
    # WKST": from 5 August 1997 every other week on Tuesday and Sunday, weeks from Monday.
    rule = replace(
        SPRING, first=date(1997, 8, 5), last=date(1997, 8, 31), weekdays=frozenset({1, 6}), every=2
    )
    assert [one.day.day for one in occurrences(rule)] == [5, 10, 19, 24]


@given(st.integers(1, 4), st.frozensets(st.integers(0, 6), min_size=1), st.integers(0, 6))
def test_the_rule_says_what_a_week_means(every: int, weekdays: frozenset[int], late: int) -> None:
    first = date(2026, 3, 23) + timedelta(days=late)
    rule = replace(SPRING, first=first, last=date(2026, 8, 1), every=every, weekdays=weekdays)
    monday = first - timedelta(days=late)
    wanted = [
        day
        for n in range((rule.last - first).days + 1)
        if (day := first + timedelta(days=n)).weekday() in weekdays
        and (day - monday).days // 7 % every == 0
    ]
    assert [one.day for one in occurrences(rule)] == wanted


def test_all_faults_of_a_rule_are_named() -> None:
    odd = replace(SPRING, weekdays=frozenset(), last=date(2026, 3, 1), minutes=0, every=0)
    found = check_repeat(odd, ENGLISH)
    assert [(one.code, one.severity, one.place) for one in found] == [
        (f"bad_{place}", Severity.SERIOUS, f"/{place}")
        for place in ("weekdays", "last", "minutes", "every")
    ]
    short = replace(SPRING, last=date(2026, 3, 25), weekdays=frozenset({5}))
    assert [one.code for one in check_repeat(short, ENGLISH)] == ["no_day"]
    assert check_repeat(SPRING, ENGLISH) == ()
    assert check_repeat(replace(SPRING, weekdays=frozenset(range(7))), ENGLISH) == ()


# --- the feed -----------------------------------------------------------------------------

STAMP = datetime(2026, 3, 1, 12, 0, tzinfo=UTC)


def feed_of(rule: Repeat) -> list[FeedEvent]:
    return [
        FeedEvent(
            f"practice-{number}@club.example",
            one.starts,
            one.minutes,
            "Practice, U16; bring “both” shirts",
            STAMP,
            place=rule.place,
            notes="Line one\nLine two, with a comma; and a semicolon " + "ø" * 60,
        )
        for number, one in enumerate(occurrences(rule))
    ]


def test_the_feed_is_read_back_by_the_library_as_it_was_meant() -> None:
    events = feed_of(SPRING)
    read = Calendar.from_ical(write_feed("U16 girls", events))
    back = read.events
    assert [str(event["uid"]) for event in back] == [event.uid for event in events]
    assert [event.start for event in back] == [event.starts for event in events]
    assert [event.end - event.start for event in back] == [timedelta(minutes=90)] * 6
    assert {str(event["summary"]) for event in back} == {events[0].title}
    assert {str(event["description"]) for event in back} == {events[0].notes}
    assert str(read["version"]) == "2.0"
    assert str(read["method"]) == "PUBLISH"


def test_the_feed_keeps_the_rules_of_rfc_5545() -> None:
    data = write_feed("Ünïted girls’ feed " * 9, feed_of(SPRING))
    lines = data.split(b"\r\n")
    assert lines[-1] == b""  # 3.1: every line ends with CRLF
    assert b"\n" not in data.replace(b"\r\n", b"")
    assert max(len(line) for line in lines) <= 75  # 3.1: octets, without the break
    text = data.replace(b"\r\n ", b"").decode()
    for line in lines:  # a folded line never cuts a character
        line.decode()
    events = text.split("BEGIN:VEVENT")[1:]
    for event in events:
        for name in ("UID:", "DTSTAMP:", "DTSTART", "SEQUENCE:"):  # 3.6.1, 3.8.7.4
            assert event.count(f"\r\n{name}") == 1
        assert "DTEND" not in event  # 3.6.1: an end or a duration, not both
        assert "DURATION:PT1H30M" in event
    assert len({event.split("UID:")[1].split("\r\n")[0] for event in events}) == 6
    assert r"Line one\nLine two\, with a comma\; and" in text  # 3.3.11


def test_the_feed_carries_its_time_zone_over_the_change_of_the_clocks() -> None:
    data = write_feed("U16", feed_of(SPRING))
    text = data.decode()
    assert text.count("BEGIN:VTIMEZONE") == 1  # 3.6.5
    assert "TZID:Europe/Oslo" in text
    assert "DTSTART;TZID=Europe/Oslo:20260331T180000" in text
    zone = Calendar.from_ical(data).timezones[0].to_tz()
    winter = datetime(2026, 3, 26, 18, tzinfo=zone).utcoffset()
    summer = datetime(2026, 3, 31, 18, tzinfo=zone).utcoffset()
    assert (winter, summer) == (timedelta(hours=1), timedelta(hours=2))
    assert "COMMENT" not in text
    assert len(data) < 4000


@pytest.mark.parametrize(
    ("zone", "summer_from", "winter_from"),
    [
        # The European Union changes at 01:00 UTC (Directive 2000/84/EC), the United States
        # at 02:00 local time (15 U.S.C. 260a); Saskatchewan does not change.
        ("Europe/Oslo", "2026-03-29 02:00", "2026-10-25 03:00"),
        ("America/New_York", "2026-03-08 02:00", "2026-11-01 02:00"),
    ],
)
def test_the_changes_of_the_clocks_stand_in_the_time_before_them(
    zone: str, summer_from: str, winter_from: str
) -> None:
    # RFC 5545, 3.6.5: the onset is local time, read with TZOFFSETFROM.
    made = zone_component(ZoneInfo(zone), 2026, 2026)
    starts = [f"{part.DTSTART:%Y-%m-%d %H:%M}" for part in made.subcomponents]
    assert starts[1:] == [summer_from, winter_from]
    names = [part.name for part in made.subcomponents]
    assert names == ["STANDARD", "DAYLIGHT", "STANDARD"]
    # RFC 5545, 3.8.3.2: the customary name, here that of the tz database.
    told = [str(part["TZNAME"]) for part in made.subcomponents]
    assert told == {"Europe/Oslo": ["CET", "CEST", "CET"]}.get(zone, ["EST", "EDT", "EST"])


def test_a_zone_without_summer_time_has_no_changes() -> None:
    made = zone_component(ZoneInfo("America/Regina"), 2025, 2027)
    assert [part.name for part in made.subcomponents] == ["STANDARD"]
    # It holds from the first moment of the first year, told in the local time of before.
    (part,) = made.subcomponents
    assert f"{part.DTSTART:%Y-%m-%d %H:%M}" == "2024-12-31 18:00"


def test_two_zones_in_one_feed() -> None:
    away = replace(feed_of(SPRING)[0], uid="game-1@club.example")
    there = replace(away, starts=datetime(2026, 4, 4, 10, tzinfo=CHICAGO))
    data = write_feed("U16", [*feed_of(SPRING), there]).decode()
    assert data.count("BEGIN:VTIMEZONE") == 2


def test_a_change_raises_the_sequence_and_a_cancelled_practice_stays_in_the_feed() -> None:
    (first, *_) = feed_of(SPRING)
    changed = replace(first, sequence=3, cancelled=True, changed=STAMP + timedelta(days=1))
    (event,) = Calendar.from_ical(write_feed("U16", [changed])).events
    assert (event.sequence, str(event["status"])) == (3, "CANCELLED")
    assert str(event["uid"]) == first.uid
    assert STAMP + timedelta(days=1) == event.DTSTAMP


def test_the_same_events_give_the_same_bytes_in_any_order() -> None:
    events = feed_of(SPRING)
    assert write_feed("U16", events) == write_feed("U16", events[::-1])


def test_double_uids_and_times_without_a_zone_are_refused() -> None:
    (first, *_) = feed_of(SPRING)
    with pytest.raises(DoubleUidError):
        write_feed("U16", [first, first])
    with pytest.raises(ValueError, match="without a zone"):
        write_feed("U16", [replace(first, starts=datetime(2026, 4, 1, 18))])  # noqa: DTZ001 (meant)


def test_an_empty_feed_is_a_calendar_too() -> None:
    assert Calendar.from_ical(write_feed("U16", [])).events == []


def test_an_event_carries_its_address_and_nothing_that_it_does_not_have() -> None:
    """RFC 5545, 3.8.4.6: the URL is a location of more about the event."""
    (first, *_) = feed_of(SPRING)
    linked = replace(first, link="https://club.example/t/3")
    (event,) = Calendar.from_ical(write_feed("U16", [linked])).events
    assert str(event["url"]) == "https://club.example/t/3"
    (bare,) = Calendar.from_ical(write_feed("U16", [replace(first, place="", notes="")])).events
    assert not {"url", "location", "description"} & {key.lower() for key in bare}
    assert (bare.sequence, str(bare["status"])) == (0, "CONFIRMED")


def test_what_a_feed_refuses_is_said_with_its_event() -> None:
    (first, *_) = feed_of(SPRING)
    with pytest.raises(DoubleUidError, match=r"^every event of a feed needs its own UID$"):
        write_feed("U16", [first, replace(first, title="Another")])
    bare = datetime(2026, 4, 1, 18)  # noqa: DTZ001 (meant)
    for odd in (replace(first, starts=bare), replace(first, changed=bare)):
        with pytest.raises(ValueError, match=r"^event practice-0@club.example has a time without"):
            write_feed("U16", [odd])
