"""Practices that repeat: dates from a rule, with changes to one of them or to all that follow.

Times are the hall's wall clock in its own time zone, so that a practice at 18:00 stays at
18:00 when the clocks change. A time that the clocks skip is read with the offset before the
change, and one that comes twice as the first of the two (RFC 5545, 3.3.5).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from practice.core.finding import Finding, Severity
from practice.core.instants import later
from shared.core.language import N_, Language

MOST_DAYS: Final = 730  # no season is longer; a rule without an end stops here

NO_WEEKDAY: Final = N_("Choose at least one weekday.")
ENDS_BEFORE: Final = N_("The last day lies before the first one.")
TOO_LONG: Final = N_("The last day lies more than two years after the first one.")
BAD_MINUTES: Final = N_("A practice lasts between 1 minute and a day.")
BAD_WEEKS: Final = N_("It repeats every week or every few weeks: at least 1.")
NO_DAY: Final = N_("No day fits: none of the weekdays lies between the first and the last day.")


@dataclass(frozen=True, slots=True)
class Change:
    """What is different on one day; what is None stays as the rule says."""

    start: time | None = None
    minutes: int | None = None
    place: str | None = None
    day: date | None = None
    cancelled: bool = False


@dataclass(frozen=True, slots=True)
class Repeat:
    """A rule: from ``first`` to ``last``, both included, on weekdays 0 (Monday) to 6.

    ``every`` weeks, counted in weeks from Monday from the week of ``first``. ``changes`` are
    by the day that the rule gives.
    """

    first: date
    last: date
    weekdays: frozenset[int]
    start: time
    minutes: int
    zone: ZoneInfo
    place: str = ""
    every: int = 1
    changes: tuple[tuple[date, Change], ...] = ()

    def change_on(self, day: date) -> Change | None:
        return dict(self.changes).get(day)


@dataclass(frozen=True, slots=True)
class Occurrence:
    """One day of a repeat. ``key`` is the day that the rule gives, moved or not."""

    key: date
    starts: datetime
    minutes: int
    place: str
    cancelled: bool
    changed: bool

    @property
    def ends(self) -> datetime:
        return later(self.starts, self.minutes)


def occurrences(repeat: Repeat) -> tuple[Occurrence, ...]:
    """Every day of the repeat in the order of the rule, the cancelled ones too."""
    return tuple(_occurrence(repeat, day) for day in _days(repeat))


def changed_once(repeat: Repeat, key: date, change: Change) -> Repeat:
    """The repeat with one day changed; a later change adds to an earlier one.

    Raises KeyError for a day on which the rule gives no practice.
    """
    if key not in set(_days(repeat)):
        raise KeyError(key)
    before = repeat.change_on(key) or Change()
    kept = tuple((day, other) for day, other in repeat.changes if day != key)
    return replace(repeat, changes=tuple(sorted((*kept, (key, _merged(before, change))), key=_day)))


def split(repeat: Repeat, key: date) -> tuple[Repeat | None, Repeat]:
    """The repeat before a day, None where nothing is left of it, and from that day on.

    "This and all following" is a change of the second part. Raises KeyError for a day on
    which the rule gives no practice.
    """
    days = list(_days(repeat))
    if key not in days:
        raise KeyError(key)
    earlier = tuple((day, change) for day, change in repeat.changes if day < key)
    onward = tuple((day, change) for day, change in repeat.changes if day >= key)
    after = replace(repeat, first=key, changes=onward)
    if days[0] == key:
        return None, after
    return replace(repeat, last=key - timedelta(days=1), changes=earlier), after


def changed_from(
    repeat: Repeat,
    key: date,
    *,
    start: time | None = None,
    minutes: int | None = None,
    place: str | None = None,
) -> tuple[Repeat | None, Repeat]:
    """The two parts of a split, the second with another start, length or place.

    What was changed for one day only stays changed. Raises KeyError as ``split``.
    """
    before, after = split(repeat, key)
    return before, replace(
        after,
        start=after.start if start is None else start,
        minutes=after.minutes if minutes is None else minutes,
        place=after.place if place is None else place,
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
        Finding(f"bad_{place}", Severity.ERROR, f"/{place}", language.say(template))
        for wrong, place, template in faults
        if wrong
    ]
    if not found and not any(True for _ in _days(repeat)):
        found.append(Finding("no_day", Severity.ERROR, "/weekdays", language.say(NO_DAY)))
    return tuple(found)


def _days(repeat: Repeat) -> Iterator[date]:
    monday = repeat.first - timedelta(days=repeat.first.weekday())
    last = min(repeat.last, repeat.first + timedelta(days=MOST_DAYS))
    day = repeat.first
    while day <= last:
        week = (day - monday).days // 7
        if day.weekday() in repeat.weekdays and week % max(1, repeat.every) == 0:
            yield day
        day += timedelta(days=1)


def _occurrence(repeat: Repeat, key: date) -> Occurrence:
    change = repeat.change_on(key) or Change()
    start = repeat.start if change.start is None else change.start
    return Occurrence(
        key,
        moment(change.day or key, start, repeat.zone),
        repeat.minutes if change.minutes is None else change.minutes,
        repeat.place if change.place is None else change.place,
        change.cancelled,
        change != Change(),
    )


def _merged(before: Change, after: Change) -> Change:
    return Change(
        start=before.start if after.start is None else after.start,
        minutes=before.minutes if after.minutes is None else after.minutes,
        place=before.place if after.place is None else after.place,
        day=before.day if after.day is None else after.day,
        cancelled=after.cancelled,
    )


def _day(item: tuple[date, Change]) -> date:
    return item[0]
