"""The calendar's pages: series, changes to one or to all following, absences, feeds.

Feeds are read back with the icalendar library and held against RFC 5545.
"""

from __future__ import annotations

from datetime import date, time, timedelta
from typing import Any

from django.urls import reverse
from icalendar import Calendar

from practice.dates.feeds import feed_link, token
from practice.models import Absence, Attendance, DaysOff, Practice
from practice.presence import away_from
from tests.cast import Cast

RULE = {
    "first": "2026-10-05",
    "last": "2026-11-06",
    "weekdays": ["0", "3"],
    "start": "18:00",
    "minutes": "90",
    "every": "1",
    "place": "Boathouse hall",
}


def make_series(cast: Cast, **more: object) -> list[Practice]:
    path = reverse("new-series", args=[cast.team.pk])
    assert cast.client(cast.head).post(path, {**RULE, **more}).status_code == 302
    return list(cast.team.practices.exclude(series=None))


def test_a_series_makes_a_practice_for_every_day_of_the_rule(cast: Cast) -> None:
    made = make_series(cast)
    assert [p.date.weekday() for p in made] == [0, 3] * 5
    assert {(p.start, p.hall_until) for p in made} == {(time(18), time(19, 30))}
    cast.client(cast.head).post(reverse("new-series", args=[cast.team.pk]), RULE)
    assert cast.team.practices.exclude(series=None).count() == 10  # those days are taken


def test_a_rule_that_cannot_be_is_told_at_its_field(cast: Cast) -> None:
    path = reverse("new-series", args=[cast.team.pk])
    answer = cast.client(cast.head).post(path, {**RULE, "last": "2026-10-01"})
    assert answer.status_code == 422
    assert "The last day lies before the first one" in answer.content.decode()


def change(cast: Cast, practice: Practice, **more: object) -> int:
    data = {
        "date": practice.date,
        "start": "18:00",
        "place": practice.place,
        "hall_from": "18:00",
        "hall_until": "19:30",
        "install_minutes": 20,
        **more,
    }
    path = reverse("edit-practice", args=[practice.pk])
    return cast.client(cast.head).post(path, data).status_code


def test_a_change_of_one_stays_with_that_one(cast: Cast) -> None:
    made = make_series(cast)
    change(cast, made[2], place="Old mill")
    assert [p.place for p in cast.team.practices.exclude(series=None)].count("Old mill") == 1
    made[2].refresh_from_db()
    assert (made[2].is_changed, made[2].sequence) == (True, 1)


def test_a_change_of_all_following_spares_the_past_and_the_changed(cast: Cast) -> None:
    made = make_series(cast)
    change(cast, made[6], place="Old mill")
    moved = made[4].date + timedelta(days=1)
    assert change(cast, made[4], date=moved, start="18:30", following="on") == 302
    after = {p.pk: p for p in cast.team.practices.exclude(series=None)}
    assert [after[p.pk].date - p.date for p in made[:4]] == [timedelta(0)] * 4
    assert after[made[6].pk].date == made[6].date
    assert after[made[6].pk].start == time(18)
    for p in (made[4], made[5], *made[7:]):
        assert after[p.pk].date == p.date + timedelta(days=1)
        assert (after[p.pk].start, after[p.pk].sequence) == (time(18, 30), 1)


def test_cancelling_can_follow_through_and_be_taken_back(cast: Cast) -> None:
    made = make_series(cast)
    path = reverse("cancel-practice", args=[made[7].pk])
    client = cast.client(cast.head)
    client.post(path, {"following": "1"})
    assert cast.team.practices.filter(cancelled=True).count() == 3
    client.post(path, {"back": "1"})
    assert cast.team.practices.filter(cancelled=True).count() == 2


OFF = {"name": "Autumn holidays", "first": "2026-10-12", "last": "2026-10-18"}


def note_days_off(cast: Cast, **more: str) -> int:
    path = reverse("add-days-off", args=[cast.team.pk])
    return cast.client(cast.head).post(path, {**OFF, **more}).status_code


def test_a_series_leaves_days_off_out_their_first_and_last_day_too(cast: Cast) -> None:
    note_days_off(cast, first="2026-10-12", last="2026-10-15")  # a Monday to a Thursday
    made = {p.date for p in make_series(cast)}
    assert len(made) == 8
    assert not made & {date(2026, 10, 12), date(2026, 10, 15)}
    assert {date(2026, 10, 8), date(2026, 10, 19)} <= made


def test_practices_in_days_off_are_cancelled_where_wished_and_told_to_calendars(
    cast: Cast,
) -> None:
    make_series(cast)
    assert note_days_off(cast) == 302
    assert not cast.team.practices.filter(cancelled=True).exists()
    assert note_days_off(cast, name="Hall closed", cancel="on") == 302
    gone = cast.team.practices.filter(cancelled=True)
    assert [p.date.isoformat() for p in gone] == ["2026-10-12", "2026-10-15"]
    assert {p.sequence for p in gone} == {1}


def test_days_off_that_end_before_they_begin_are_told_and_nothing_is_lost(cast: Cast) -> None:
    path = reverse("add-days-off", args=[cast.team.pk])
    answer = cast.client(cast.head).post(path, {**OFF, "last": "2026-10-01"})
    assert answer.status_code == 422
    text = answer.content.decode()
    assert "The last day lies before the first one." in text
    assert 'value="Autumn holidays"' in text
    assert not DaysOff.objects.exists()


def test_days_off_can_be_taken_out_and_no_other_teams(cast: Cast) -> None:
    note_days_off(cast)
    off = DaysOff.objects.get()
    path = reverse("remove-days-off", args=[cast.other_team.pk, off.pk])
    cast.client(cast.stranger).post(path)
    assert DaysOff.objects.exists()
    cast.client(cast.head).post(reverse("remove-days-off", args=[cast.team.pk, off.pk]))
    assert not DaysOff.objects.exists()


def test_an_announced_absence_counts_until_attendance_says_otherwise(cast: Cast) -> None:
    practice, ida = cast.practice, cast.players[0]
    path = reverse("add-absence", args=[cast.team.pk])
    data = {"player": ida.pk, "first": practice.date, "last": practice.date}
    assert cast.client(cast.assistant).post(path, data).status_code == 302
    assert away_from(practice) == {ida.pk}
    Attendance.objects.create(practice=practice, player=ida, presence="late")
    assert away_from(practice) == frozenset()
    wrong = {**data, "last": practice.date - timedelta(days=1)}
    assert cast.client(cast.assistant).post(path, wrong).status_code == 422
    foreign = {**data, "player": cast.other_player.pk}
    assert cast.client(cast.assistant).post(path, foreign).status_code == 422


def test_the_month_shows_practices_games_and_the_guideline(cast: Cast) -> None:
    """NBA and USA Basketball 2016, grades 9-12: 3 to 4 practices a week (from memory)."""
    cast.practice.delete()  # its day depends on how many practices were made before
    make_series(cast, weekdays=["0", "1", "2", "3", "4"], first="2026-12-01", last="2026-12-05")
    make_series(cast, weekdays=["5"], first="2026-12-05", last="2026-12-05")
    path = reverse("calendar", args=[cast.team.pk])
    shown = cast.client(cast.assistant).get(path + "?month=2026-12").content.decode()
    assert "December 2026" in shown
    assert "Game: Millbrook" in shown
    assert "5 practices" in shown
    assert "2016" in shown
    assert cast.client(cast.assistant).get(path + "?month=nonsense").status_code == 200


def read_feed(cast: Cast, address: str) -> Any:
    answer = cast.client(None).get(address)
    assert answer.headers["Content-Type"].startswith("text/calendar")
    assert all(len(line) <= 75 for line in answer.content.split(b"\r\n"))  # RFC 5545, 3.1
    return Calendar.from_ical(answer.content)


def test_a_feed_follows_a_move_and_a_cancellation(cast: Cast) -> None:
    made = make_series(cast)
    address = reverse("feed", args=[token(feed_link(cast.team, None))])
    before = {str(e["uid"]): e for e in read_feed(cast, address).walk("VEVENT")}
    assert len(before) == 12  # ten of the series, the cast's practice and its game
    change(cast, made[0], start="19:00", hall_from="19:00", hall_until="20:30")
    cast.client(cast.head).post(reverse("cancel-practice", args=[made[1].pk]))
    after = {str(e["uid"]): e for e in read_feed(cast, address).walk("VEVENT")}
    assert after.keys() == before.keys()
    changed = [uid for uid in after if after[uid]["sequence"] > before[uid]["sequence"]]
    assert len(changed) == 2
    assert {str(after[uid]["status"]) for uid in changed} == {"CONFIRMED", "CANCELLED"}
    starts = sorted(e["dtstart"].dt for e in after.values() if "18" in f"{e['dtstart'].dt:%H}")
    assert {start.utcoffset() for start in starts} == {timedelta(hours=2), timedelta(hours=1)}


def test_a_players_feed_leaves_out_their_absence_and_names_nobody(cast: Cast) -> None:
    Absence.objects.create(player=cast.players[0], first=date(2020, 1, 1), last=date(2099, 1, 1))
    address = reverse("feed", args=[token(feed_link(cast.team, cast.players[0]))])
    events = read_feed(cast, address).walk("VEVENT")
    assert [str(event["summary"]) for event in events] == ["Game: Millbrook"]
    text = cast.client(None).get(address).content.decode()
    assert not any(player.name in text for player in cast.players[1:])


def test_a_plan_half_written_ends_no_practice_early(cast: Cast) -> None:
    """The cast's practice, without a booking here; 90 minutes are common practice."""
    cast.team.practices.update(hall_until=None)
    assert sum(block.minutes for block in cast.practice.blocks.all()) < 90
    address = reverse("feed", args=[token(feed_link(cast.team, None))])

    def lasts() -> timedelta:
        events = read_feed(cast, address).walk("VEVENT")
        (told,) = [event for event in events if str(event["summary"]) == "Practice"]
        length: timedelta = told["duration"].dt
        return length

    assert lasts() == timedelta(minutes=90)
    cast.practice.blocks.update(minutes=120)
    assert lasts() == timedelta(minutes=120 * cast.practice.blocks.count())


def test_a_withdrawn_link_opens_nothing(cast: Cast) -> None:
    client = cast.client(cast.head)
    path = reverse("feeds", args=[cast.team.pk])
    client.post(path, {"player": cast.players[0].pk})
    shown = client.get(path).content.decode()
    address = reverse("feed", args=[token(feed_link(cast.team, cast.players[0]))])
    assert address in shown
    assert cast.client(None).get(address).status_code == 200
    assert cast.client(None).get(address.replace(".ics", "x.ics")).status_code == 404
    client.post(path, {"player": cast.players[0].pk, "withdraw": "1"})
    assert cast.client(None).get(address).status_code == 404
    assert client.post(path, {"player": cast.other_player.pk}).status_code == 404
