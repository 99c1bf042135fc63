"""Repeating practices, and changes that follow through to the later ones of a series."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from practice.core.dates.repeats import Occurrence, Repeat, occurrences
from practice.models import Game, Practice, Series
from practice.reps.sums import remake
from roster.models import Team
from shared.fields import check_season


def repeat_of(data: dict[str, object]) -> Repeat:
    """The rule that a series form describes, in the club's time zone."""
    return Repeat(
        first=data["first"],  # type: ignore[arg-type]  # a form's cleaned values
        last=data["last"],  # type: ignore[arg-type]
        weekdays=frozenset(int(day) for day in data["weekdays"]),  # type: ignore[attr-defined]
        start=data["start"],  # type: ignore[arg-type]
        minutes=data["minutes"],  # type: ignore[arg-type]
        zone=ZoneInfo(settings.TIME_ZONE),
        place=str(data["place"]),
        every=data["every"],  # type: ignore[arg-type]
    )


@transaction.atomic
def make_series(team: Team, repeat: Repeat) -> int:
    """A practice for every day of the rule that is not off.

    A day that has one at that time keeps it.
    """
    taken = set(team.practices.values_list("date", "start"))
    off = list(team.days_off.values_list("first", "last"))
    series = Series.objects.create(team=team)
    fresh = [
        each
        for each in occurrences(repeat)
        if (each.day, repeat.start) not in taken
        and not any(first <= each.day <= last for first, last in off)
    ]
    Practice.objects.bulk_create(_practice(team, series, repeat, each) for each in fresh)
    return len(fresh)


def _practice(team: Team, series: Series, repeat: Repeat, each: Occurrence) -> Practice:
    ends = each.ends
    same_day = ends.date() == each.starts.date()
    return Practice(
        team=team,
        series=series,
        date=each.day,
        start=repeat.start,
        place=repeat.place,
        hall_from=repeat.start if same_day else None,
        hall_until=ends.time().replace(microsecond=0) if same_day else None,
    )


@transaction.atomic
def save_change(practice: Practice, before: Practice, *, following: bool) -> int:
    """Save a changed practice, and with ``following`` all later ones of its series as well.

    Those that were changed by themselves stay as they are. Returns how many changed. Raises
    ValidationError where one of them would leave the season.
    """
    practice.is_changed = practice.is_changed or (practice.series_id is not None and not following)
    later = _later(practice, before) if following and practice.series_id else []
    shift = practice.date - before.date
    for each in later:
        check_season(each.date + shift)
    touch(practice)
    for each in later:
        each.date += shift
        each.start, each.place = practice.start, practice.place
        each.hall_from, each.hall_until = practice.hall_from, practice.hall_until
        each.install_minutes = practice.install_minutes
        touch(each)
    remake([each.pk for each in (practice, *later)])  # reps count on the day of their practice
    return 1 + len(later)


def _later(practice: Practice, before: Practice) -> list[Practice]:
    """The later ones of the series, in an order in which a shift by days meets no other."""
    rows = practice.team.practices.filter(
        series=practice.series_id, date__gt=before.date, is_changed=False
    ).exclude(pk=practice.pk)
    forward = practice.date > before.date
    return list(rows.order_by("-date" if forward else "date"))


@transaction.atomic
def cancel(practice: Practice, *, cancelled: bool, following: bool) -> int:
    """Cancel a practice or bring it back; with ``following`` the later ones of its series too."""
    rows = [practice]
    if following and practice.series_id:
        rows += practice.team.practices.filter(series=practice.series_id, date__gt=practice.date)
    for each in rows:
        each.cancelled = cancelled
        touch(each)
    return len(rows)


def touch(row: Practice | Game) -> None:
    """Save a change so that calendar programs see that there was one."""
    row.sequence += 1
    row.changed_at = timezone.now()
    row.save()
