"""Which days a staff's work can lie on, and how far a stored day may stray before it is moved.

A date that somebody enters lies within two years of today: a season, the one before and the
one after. A row may hold an older slip, so what is read is moved to where every sum over days
and every time zone still holds: Python's calendar ends at the years 1 and 9999, and one day
beyond it raises OverflowError.

Papers write a day in words, as pages do: "3/10" is in March for some and in October for others.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Final

from shared.core.language import N_, Language

REACH: Final = timedelta(days=2 * 366)
EARLIEST: Final = date(1900, 1, 1)
LATEST: Final = date(2199, 12, 31)

DAY: Final = N_("{day} {month} {year}")
DAY_OF_MONTH: Final = N_("{day} {month}")
DAY_AND_TIME: Final = N_("{day}, {time}")
MONTHS: Final = (
    *(N_("January"), N_("February"), N_("March"), N_("April"), N_("May"), N_("June")),
    *(N_("July"), N_("August"), N_("September"), N_("October"), N_("November"), N_("December")),
)


@dataclass(frozen=True, slots=True)
class DaySpan:
    """Some days, the first and the last included."""

    first: date
    last: date

    def __contains__(self, day: date) -> bool:
        return self.first <= day <= self.last


def span_around(today: date) -> DaySpan:
    """The days that may be entered: two years back to two years ahead."""
    return DaySpan(bearable_day(today - REACH), bearable_day(today + REACH))


def bearable_day(day: date) -> date:
    """The day, or the nearest one from 1900 to 2199."""
    return min(max(day, EARLIEST), LATEST)


def bearable_moment(moment: datetime) -> datetime:
    """The moment, or the same time of day on the nearest day from 1900 to 2199."""
    day = bearable_day(moment.date())
    return moment if day == moment.date() else datetime.combine(day, moment.timetz())


def day_said(day: date, language: Language) -> str:
    """The day in words: "12 October 2026", "12 de octubre de 2026"."""
    month = language.say(MONTHS[day.month - 1])
    return language.say(DAY, day=day.day, month=month, year=day.year)


def day_of_month(day: date, language: Language) -> str:
    """The day in words without its year: "12 October"."""
    month = language.say(MONTHS[day.month - 1])
    return language.say(DAY_OF_MONTH, day=day.day, month=month)


def moment_said(moment: datetime, language: Language) -> str:
    """The same with the time of day, on the clock that the moment was given by."""
    day = day_said(moment.date(), language)
    return language.say(DAY_AND_TIME, day=day, time=f"{moment:%H:%M}")
