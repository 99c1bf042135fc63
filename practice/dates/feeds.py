"""The calendar: repeating practices, changes that follow through, absences, and its feeds."""

from __future__ import annotations

import uuid
from datetime import date, time, timedelta
from typing import Final
from zoneinfo import ZoneInfo

from django.conf import settings
from django.db import transaction
from django.db.models import QuerySet, Sum
from django.utils import timezone
from django.utils.crypto import salted_hmac
from django.utils.translation import gettext as _

from practice.bridge import moment
from practice.core.dates.feed import FeedEvent, write_feed
from practice.core.dates.repeats import Occurrence, Repeat, occurrences
from practice.models import FeedLink, Game, Practice, Series
from practice.plan.length import USUAL_MINUTES, lasting
from practice.presence import away_by_practice
from practice.reps.sums import remake
from roster.models import Player, Team
from shared.core.days import bearable_day
from shared.fields import check_season, season
from shared.links import new_nonce, nonce_of, token_of

PURPOSE: Final = "calendar"


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


# --- feeds --------------------------------------------------------------------------------


def feed_link(team: Team, player: Player | None) -> FeedLink:
    """The open link of a team's or a player's calendar; a new one where there is none."""
    found = team.feed_links.filter(player=player, withdrawn_at=None).first()
    return found or FeedLink.objects.create(team=team, player=player, nonce=new_nonce())


def withdraw(team: Team, player: Player | None) -> None:
    """Close the team's own calendar, or a player's."""
    _close(team.feed_links.filter(player=player))


def withdraw_all(team: Team) -> None:
    """Close the team's calendar and those of all its players."""
    _close(team.feed_links.all())


def _close(links: QuerySet[FeedLink]) -> None:
    links.filter(withdrawn_at=None).update(withdrawn_at=timezone.now())


def token(link: FeedLink) -> str:
    return token_of(link.nonce, PURPOSE)


def link_behind(text: str) -> FeedLink | None:
    """The calendar that a token opens: genuine, not withdrawn, its player still in the team."""
    links = FeedLink.objects.select_related("team", "player").filter(
        nonce=nonce_of(text, PURPOSE) or "", withdrawn_at=None
    )
    link = links.first()
    return None if link is None or (link.player and link.player.left_on) else link


def feed(link: FeedLink) -> bytes:
    """The calendar as iCalendar; a player's leaves out the practices they are away from.

    Two years back and ahead: a day beyond is a slip, and would ask for a century of clock changes.
    """
    team, player = link.team, link.player
    near = {"date__gte": season().first, "date__lte": season().last}
    rows = team.practices.filter(**near).annotate(planned=Sum("blocks__minutes"))
    practices = list(rows)
    if player is not None:
        away = away_by_practice(practices)
        practices = [each for each in practices if player.pk not in away[each.pk]]
    title = f"{team.name} · {player.name}" if player else str(team)
    events = [*map(_practice_event, practices), *map(_game_event, team.games.filter(**near))]
    return write_feed(title, events)


def _practice_event(practice: Practice) -> FeedEvent:
    return FeedEvent(
        uid=_uid("practice", practice.pk),
        starts=moment(practice.date, practice.start),
        minutes=lasting(practice, getattr(practice, "planned", None)),
        title=_("Practice"),
        changed=practice.changed_at,
        sequence=practice.sequence,
        place=practice.place,
        cancelled=practice.cancelled,
    )


def _game_event(game: Game) -> FeedEvent:
    return FeedEvent(
        uid=_uid("game", game.pk),
        starts=moment(game.date, game.start),
        minutes=USUAL_MINUTES,
        title=_("Game: %(opponent)s") % {"opponent": game.opponent},
        changed=game.changed_at,
        sequence=game.sequence,
        place=game.place,
        cancelled=game.cancelled,
    )


def _uid(kind: str, pk: int) -> str:
    """An id that nobody else makes and that never changes (RFC 7986, 5.3 asks for a UUID)."""
    digest = salted_hmac("calendar", f"{kind}-{pk}", algorithm="sha256").hexdigest()
    return str(uuid.UUID(hex=digest[:32], version=4))


# --- a month ------------------------------------------------------------------------------


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
