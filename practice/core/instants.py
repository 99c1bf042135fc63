"""Counting minutes and days between aware moments, over a change of the clocks too."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

DAY_SECONDS = 86_400.0


def later(moment: datetime, minutes: float) -> datetime:
    """So many real minutes after an aware moment, in the same time zone."""
    return (moment.astimezone(UTC) + timedelta(minutes=minutes)).astimezone(moment.tzinfo)


def minutes_between(start: datetime, end: datetime) -> float:
    """Real minutes from start to end; negative when end is earlier."""
    return (end.astimezone(UTC) - start.astimezone(UTC)).total_seconds() / 60


def days_between(start: datetime, end: datetime) -> float:
    """Real days of 24 hours from start to end; negative when end is earlier."""
    return (end.astimezone(UTC) - start.astimezone(UTC)).total_seconds() / DAY_SECONDS
