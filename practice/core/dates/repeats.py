"""Practices that repeat: dates from a rule.

Times are the hall's wall clock in its own time zone, so that a practice at 18:00 stays at
18:00 when the clocks change. A time that the clocks skip is read with the offset before the
change, and one that comes twice as the first of the two (RFC 5545, 3.3.5).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from dateutil.rrule import MO, WEEKLY, rrule

from practice.core.instants import later
from shared.core.finding import Finding, Severity
from shared.core.language import N_, Language

MOST_DAYS: Final = 730  # no season is longer; a rule without an end stops here

NO_WEEKDAY: Final = N_("Choose at least one weekday.")
ENDS_BEFORE: Final = N_("The last day lies before the first one.")
TOO_LONG: Final = N_("The last day lies more than two years after the first one.")
BAD_MINUTES: Final = N_("A practice lasts between 1 minute and a day.")
BAD_WEEKS: Final = N_("Write 1 for every week, 2 for every second week.")
NO_DAY: Final = N_("No day fits: none of the weekdays lies between the first and the last day.")


@dataclass(frozen=True, slots=True)
class Repeat:
    """A rule: from ``first`` to ``last``, both included, on weekdays 0 (Monday) to 6.

    ``every`` weeks, counted in weeks from Monday from the week of ``first``.
    """

    first: date
    last: date
    weekdays: frozenset[int]
    start: time
    minutes: int
    zone: ZoneInfo
    place: str = ""
    every: int = 1


@dataclass(frozen=True, slots=True)
class Occurrence:
    """One day of a repeat, and when it starts there."""

    day: date
    starts: datetime
    minutes: int

    @property
    def ends(self) -> datetime:
        return later(self.starts, self.minutes)


def occurrences(repeat: Repeat) -> tuple[Occurrence, ...]:
    """Every day of the repeat, in order."""
    return tuple(
        Occurrence(day, moment(day, repeat.start, repeat.zone), repeat.minutes)
        for day in _days(repeat)
    )


def moment(day: date, start: time, zone: ZoneInfo) -> datetime:
    """The moment of a wall-clock time, real even where the clocks skip it."""
    return datetime.combine(day, start, zone).astimezone(UTC).astimezone(zone)


def check_repeat(repeat: Repeat, language: Language) -> tuple[Finding, ...]:
    """Everything that is wrong with a rule, each at its field."""
    faults = (
        (not repeat.weekdays or not repeat.weekdays <= set(range(7)), "weekdays", NO_WEEKDAY),
        (repeat.last < repeat.first, "last", ENDS_BEFORE),
        (repeat.last > repeat.first + timedelta(days=MOST_DAYS), "last", TOO_LONG),
        (not 1 <= repeat.minutes <= 24 * 60, "minutes", BAD_MINUTES),
        (repeat.every < 1, "every", BAD_WEEKS),
    )
    found = [
        Finding(f"bad_{place}", Severity.SERIOUS, f"/{place}", language.say(template))
        for wrong, place, template in faults
        if wrong
    ]
    if not found and not any(True for _ in _days(repeat)):
        found.append(Finding("no_day", Severity.SERIOUS, "/weekdays", language.say(NO_DAY)))
    return tuple(found)


def _days(repeat: Repeat) -> Iterator[date]:
    """The days of RFC 5545's rule: weekly, every so many weeks, by day, weeks from Monday."""
    rule = rrule(
        WEEKLY,
        dtstart=datetime.combine(repeat.first, time()),
        until=datetime.combine(min(repeat.last, repeat.first + timedelta(days=MOST_DAYS)), time()),
        interval=max(1, repeat.every),
        byweekday=sorted(repeat.weekdays),
        wkst=MO,
    )
    return (each.date() for each in rule) if repeat.weekdays else iter(())
