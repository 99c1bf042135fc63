"""Practices and games as an iCalendar feed (RFC 5545), written by the icalendar library.

Every practice and game is an event of its own with a UID that never changes and a SEQUENCE
that grows with every change, so that ordinary calendar programs follow a move and show a
cancellation. Times carry their zone, and the feed holds the zone's rules for its own years.
The feed names no player: a feed of one player holds that player's dates and nothing else.
This module and ``calendar_zone`` are the only ones of the core that use icalendar, because
folding and escaping are easy to get wrong.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from icalendar import Calendar, Event

from practice.core.dates.zone import zone_component

PRODUCT: Final = "-//Coachbook//Practice calendar//EN"
REFRESH: Final = timedelta(hours=6)


@dataclass(frozen=True, slots=True)
class FeedEvent:
    """One practice or game. ``starts`` is aware; ``changed`` when it was last changed.

    ``uid`` is worldwide unique, as in "practice-17@club.example"; ``sequence`` begins at 0.
    """

    uid: str
    starts: datetime
    minutes: float
    title: str
    changed: datetime
    sequence: int = 0
    place: str = ""
    notes: str = ""
    link: str = ""
    cancelled: bool = False


class DoubleUidError(ValueError):
    """Two events of one feed have the same UID."""


def write_feed(title: str, events: Sequence[FeedEvent]) -> bytes:
    """The feed, events in the order of time; the same events give the same bytes.

    Raises DoubleUidError, and ValueError for a time without a zone.
    """
    if len({event.uid for event in events}) < len(events):
        raise DoubleUidError("every event of a feed needs its own UID")
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("method", "PUBLISH")
    calendar.add("name", title)  # RFC 7986; the next line is what older programs read
    calendar.add("x-wr-calname", title)
    calendar.add("refresh-interval", REFRESH, parameters={"value": "DURATION"})
    for zone in _zones(events):
        years = [event.starts.year for event in events]
        # From the year before, so that the rule in force on the first day is there.
        calendar.add_component(zone_component(zone, min(years) - 1, max(years) + 1))
    for event in sorted(events, key=lambda event: (event.starts, event.uid)):
        calendar.add_component(_component(event))
    data: bytes = calendar.to_ical()
    return data


def _zones(events: Sequence[FeedEvent]) -> list[ZoneInfo]:
    """The named zones of the events' times, in the order of their names."""
    zones = {event.starts.tzinfo for event in events}
    named = [zone for zone in zones if isinstance(zone, ZoneInfo) and zone.key != "UTC"]
    return sorted(named, key=lambda zone: zone.key)


def _component(event: FeedEvent) -> Event:
    if event.starts.utcoffset() is None or event.changed.utcoffset() is None:
        raise ValueError(f"event {event.uid} has a time without a zone")
    changed = event.changed.astimezone(UTC).replace(microsecond=0)
    made = Event()
    made.add("uid", event.uid)
    made.add("sequence", event.sequence)
    made.add("dtstamp", changed)
    made.add("last-modified", changed)
    made.add("dtstart", event.starts)
    # A length and not an end: real minutes, whatever the clocks do.
    made.add("duration", timedelta(minutes=event.minutes))
    made.add("summary", event.title)
    made.add("status", "CANCELLED" if event.cancelled else "CONFIRMED")
    for name, value in (("location", event.place), ("description", event.notes)):
        if value:
            made.add(name, value)
    if event.link:
        made.add("url", event.link)
    return made
