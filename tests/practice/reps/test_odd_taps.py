"""Taps that no thumb makes: each stands alone, and none takes a page down."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

import pytest
from django.db import OperationalError
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from practice.bridge import moment
from practice.dates.feeds import feed_link, token
from practice.models import Game, HeldRep, Practice
from practice.models import Rep as RepRow
from practice.reps import rows
from practice.reps import store as store_module
from roster.models import PackagePlay
from tests.cast import Cast
from tests.practice.reps.test_log import counted, decision, send, tap, undo

HUGE = "9" * 5_000
LATEST = "9999-12-31T23:59:59+00:00"
# Valid JSON as text, so that what json.dumps would not write can stand in it.
BAD = {
    "no object": "7",
    "half a letter in the id": '{"kind": "undo", "id": "\\ud800", "rep": "a", "at": "AT"}',
    "zero in the id": '{"kind": "undo", "id": "a\\u0000", "rep": "a", "at": "AT"}',
    "no time zone": '{"kind": "undo", "id": "a", "rep": "a", "at": "2026-09-01T10:00:00"}',
    "a day that is none": '{"kind": "undo", "id": "a", "rep": "a", "at": "2026-02-30T10:00Z"}',
    "an id beyond every row": f'{{"kind": "undo", "id": {HUGE}, "rep": "a", "at": "AT"}}',
    "a mode of half letters": '{"kind": "rep", "mode": "\\udfff", "at": "AT", "id": "a"}',
    "not a number": '{"kind": "rep", "id": NaN}',
}


def post(cast: Cast, body: str) -> Any:
    path = f"{reverse('taps', args=[cast.team.pk])}?practice={cast.practice.pk}"
    return cast.client(cast.assistant).post(path, body, content_type="application/json")


@pytest.mark.parametrize("what", BAD)
def test_a_bad_tap_among_many_costs_none_of_them(cast: Cast, what: str) -> None:
    good = [tap(cast) for _ in range(59)]
    texts = [json.dumps(one) for one in good]
    bad = BAD[what].replace("AT", timezone.now().isoformat())
    answer = post(cast, f'{{"taps": [{", ".join([*texts[:30], bad, *texts[30:]])}]}}')
    assert answer.status_code == 200
    assert set(answer.json()["kept"]) == {one["id"] for one in good}
    assert {fault["place"].split("/")[2] for fault in answer.json()["faults"]} == {"30"}
    assert counted(cast) == 59


@pytest.mark.parametrize("number", [2**63, -(2**63) - 1, int("9" * 4_000)])
@pytest.mark.parametrize("field", ["practice", "play", "unit", "by", "revision", "cast"])
def test_a_number_that_no_row_has(cast: Cast, field: str, number: int) -> None:
    one = tap(cast)
    one[field] = {**one["cast"], "1": number} if field == "cast" else number
    answer = send(cast, one, good := tap(cast))
    assert answer["kept"] == [good["id"]]
    assert answer["faults"][0]["place"].startswith(f"/taps/0/{field}")


def test_what_the_database_cannot_take_is_refused_by_itself(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    taps = [tap(cast) for _ in range(60)]
    poison = taps[17]["id"]
    write = rows.write

    def fails(reps: Any, *rest: Any, **more: Any) -> None:
        if any(rep.id == poison for rep in reps):
            raise ValueError("no row can hold this")
        write(reps, *rest, **more)

    monkeypatch.setattr(store_module, "write", fails)
    answer = send(cast, *taps)
    assert set(answer["kept"]) == {one["id"] for one in taps} - {poison}
    assert list(answer["refused"]) == [poison]
    assert counted(cast) == 59


def test_a_database_that_is_away_blames_no_tap(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    def locked(*_args: object, **_more: object) -> None:
        raise OperationalError("database is locked")

    monkeypatch.setattr(store_module, "write", locked)
    with pytest.raises(OperationalError):
        send(cast, tap(cast))


@pytest.mark.parametrize("at", [LATEST, "0001-01-01T00:00:00+00:00", "1970-01-01T00:00:00Z"])
def test_a_wrong_clock_is_held_and_put_right(cast: Cast, at: str) -> None:
    one = tap(cast, at=at)
    assert send(cast, one)["held"] == [one["id"]]
    client = cast.client(cast.head)
    shown = client.get(reverse("held-reps", args=[cast.team.pk]))
    assert "clock was wrong" in shown.content.decode()
    held = HeldRep.objects.get()
    path = reverse("decide-rep", args=[cast.team.pk, held.pk])
    for bad in ("9999-12-31T23:59", "0001-01-01T00:00", "soon"):
        assert client.post(path, decision(cast, held, at=bad)).status_code == 422
    right = f"{cast.practice.date}T{cast.practice.start:%H:%M}"
    assert client.post(path, decision(cast, held, at=right)).status_code == 302
    assert timezone.localdate(RepRow.objects.get().at) == cast.practice.date


@pytest.mark.parametrize(("days", "asks"), [(-365, True), (365, True), (-61, True), (59, False)])
def test_a_rep_a_year_from_its_practice_asks(cast: Cast, days: int, asks: bool) -> None:
    """One that is entered later is logged about now, and counts on the practice's day."""
    cast.practice.date = timezone.localdate()
    cast.practice.save()
    at = moment(cast.practice.date, cast.practice.start) + timedelta(days=days)
    one = tap(cast, at=at.isoformat())
    assert send(cast, one)["held" if asks else "kept"] == [one["id"]]
    assert counted(cast) == (0 if asks else 1)
    if not asks:
        return
    shown = cast.client(cast.head).get(reverse("held-reps", args=[cast.team.pk]))
    text = shown.content.decode()
    assert "but this was logged on" in text
    assert f"{at:%Y}" in text
    held = HeldRep.objects.get()
    path = reverse("decide-rep", args=[cast.team.pk, held.pk])
    again = cast.client(cast.head).post(path, decision(cast, held, at=f"{at:%Y-%m-%dT%H:%M}"))
    assert again.status_code == 422
    right = f"{cast.practice.date}T{cast.practice.start:%H:%M}"
    assert cast.client(cast.head).post(path, decision(cast, held, at=right)).status_code == 302
    assert counted(cast) == 1


def test_a_rep_that_is_entered_a_year_later_is_logged_now_and_counts(cast: Cast) -> None:
    Practice.objects.filter(pk=cast.practice.pk).update(
        date=timezone.localdate() - timedelta(days=365)
    )
    one = tap(cast, at=timezone.now().isoformat())
    assert send(cast, one)["kept"] == [one["id"]]


def test_an_undo_works_whatever_its_clock_says(cast: Cast) -> None:
    one = tap(cast)
    send(cast, one, {**undo(one["id"]), "at": LATEST})
    assert counted(cast) == 0


@pytest.mark.parametrize("kept", [{}, {"kind": "rep"}, [], "text", {"practice": 2**63}])
def test_a_held_row_that_cannot_be_read_is_set_aside(cast: Cast, kept: object) -> None:
    held = HeldRep.objects.create(team=cast.team, tap=kept, logged_by=cast.head)
    client = cast.client(cast.head)
    shown = client.get(reverse("held-reps", args=[cast.team.pk]))
    assert "A rep that cannot be read" in shown.content.decode()
    path = reverse("decide-rep", args=[cast.team.pk, held.pk])
    assert client.post(path, decision(cast, held)).status_code == 302
    assert HeldRep.objects.get().counted is None
    client.post(path, {"aside": "1"})
    assert HeldRep.objects.get().counted is False


@pytest.mark.parametrize("day", [date.min, date(1969, 12, 31), date(2300, 1, 1), date.max])
def test_no_page_falls_over_an_odd_row(cast: Cast, day: date) -> None:
    """Rows as an earlier edition may have taken them, at both ends of the calendar."""
    practice = factories.PracticeFactory.create(team=cast.team)
    rep = send(cast, tap(cast, practice=practice.pk))["kept"][0]
    at = datetime.combine(day, time(23, 59, 59) if day.year > 2000 else time.min, tzinfo=UTC)
    RepRow.objects.filter(pk=rep).update(at=at)
    Practice.objects.filter(pk=practice.pk).update(date=day)
    game = factories.GameFactory.create(team=cast.team)
    Game.objects.filter(pk=game.pk).update(date=day)
    PackagePlay.objects.update(ready_by=day)
    client, team = cast.client(cast.head), cast.team.pk
    for name in ("team", "readiness", "cast", "coverage", "calendar", "practices", "sheets"):
        assert client.get(reverse(name, args=[team])).status_code == 200, name
    for pk in (practice.pk, cast.practice.pk):
        for name in ("practice", "log", "attendance", "plan-pdf", "court-now", "edit-practice"):
            assert client.get(reverse(name, args=[pk])).status_code == 200, name
    for name in ("install", "edit-game"):
        assert client.get(reverse(name, args=[game.pk])).status_code == 200, name
    assert client.post(reverse("propose", args=[cast.game.pk])).status_code == 302
    assert client.get(reverse("install", args=[cast.game.pk])).status_code == 200
    assert client.get(reverse("edit-entry", args=[cast.entry.pk])).status_code == 200
    for role in "12":
        args = [cast.players[0].pk, cast.entry.pk, role]
        assert client.get(reverse("readiness-curve", args=args)).status_code == 200
    assert client.get(reverse("feed", args=[token(feed_link(cast.team, None))])).status_code == 200


@pytest.mark.parametrize("month", ["9999-12", "0001-01", "1900-01", "2199-12", "9999-99", "²"])
def test_any_month_may_be_asked_for(cast: Cast, month: str) -> None:
    path = reverse("calendar", args=[cast.team.pk])
    assert cast.client(cast.head).get(path, {"month": month}).status_code == 200
