"""A month of the calendar, day by day."""

from __future__ import annotations

from datetime import date, time, timedelta

from django.db.models import Sum

from practice.models import Game, Practice
from roster.models import Team
from shared.core.days import bearable_day


def month_of(text: str, today: date) -> date:
    """The first day of the month in ``?month=2026-11``; this month for anything else.

    A month at either end of the calendar is the nearest from 1900 to 2199.
    """
    try:
        return bearable_day(date.fromisoformat(f"{text}-01")).replace(day=1)
    except ValueError:
        return today.replace(day=1)


def days_of(team: Team, first: date) -> list[tuple[date, list[Practice | Game]]]:
    """Days of a month that hold something, with their practices and games in order."""
    after = (first + timedelta(days=32)).replace(day=1)
    span = {"date__gte": first, "date__lt": after}
    practices = team.practices.filter(**span).annotate(planned=Sum("blocks__minutes"))
    rows: list[Practice | Game] = [*practices, *team.games.filter(**span)]
    rows.sort(key=_when)
    days: dict[date, list[Practice | Game]] = {}
    for row in rows:
        days.setdefault(row.date, []).append(row)
    return list(days.items())


def _when(row: Practice | Game) -> tuple[date, time]:
    return row.date, row.start
