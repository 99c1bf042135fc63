"""A time zone as an iCalendar component (RFC 5545, 3.6.5), for the years that a feed needs.

The library's own components give the onset of summer time in the time after the change; the
standard asks for the local time before it, so the changes are looked up here one by one.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from icalendar import Timezone, TimezoneDaylight, TimezoneStandard

STEP: Final = timedelta(days=7)


def zone_component(zone: ZoneInfo, first_year: int, last_year: int) -> Timezone:
    """The zone with every change of its clocks from the first year through the last."""
    made = Timezone()
    made.add("tzid", zone.key)
    start = datetime(first_year, 1, 1, tzinfo=UTC)
    made.add_component(_part(zone, start, start))
    for change in changes(zone, start, datetime(last_year + 1, 1, 1, tzinfo=UTC)):
        made.add_component(_part(zone, change, change - timedelta(minutes=1)))
    return made


def changes(zone: ZoneInfo, start: datetime, end: datetime) -> list[datetime]:
    """Moments, in UTC and to the minute, from which another offset or name holds."""
    found, here = [], start
    while here < end:
        there = min(here + STEP, end)
        if _rule(zone, here) != _rule(zone, there):
            found.append(_change_between(zone, here, there))
        here = there
    return found


def _change_between(zone: ZoneInfo, before: datetime, after: datetime) -> datetime:
    while after - before > timedelta(minutes=1):
        minutes = int((after - before) / timedelta(minutes=1)) // 2
        middle = before + timedelta(minutes=minutes)
        if _rule(zone, middle) == _rule(zone, before):
            before = middle
        else:
            after = middle
    return after


def _rule(zone: ZoneInfo, moment: datetime) -> tuple[timedelta, str]:
    local = moment.astimezone(zone)
    return local.utcoffset() or timedelta(), local.tzname() or ""


def _part(
    zone: ZoneInfo, moment: datetime, before: datetime
) -> TimezoneStandard | TimezoneDaylight:
    """What holds from ``moment`` on; ``before`` is a moment of the rule that it ends."""
    old, _ = _rule(zone, before)
    new, name = _rule(zone, moment)
    is_summer = bool(moment.astimezone(zone).dst())
    made = TimezoneDaylight() if is_summer else TimezoneStandard()
    made.add("dtstart", (moment + old).replace(tzinfo=None))
    made.add("tzoffsetfrom", old)
    made.add("tzoffsetto", new)
    made.add("tzname", name)
    return made
