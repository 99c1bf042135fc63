"""What was entered by mistake can be taken out again, and what something was noted in stays."""

from __future__ import annotations

import uuid
from datetime import date, timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from practice.models import Attendance, CalledPlay, Game, PlanPattern, Practice, Undo
from tests.cast import Cast

DAY = date(2027, 1, 12)


def practice_of(cast: Cast, day: date = DAY, **more: object) -> Practice:
    return factories.PracticeFactory.create(team=cast.team, date=day, **more)


def sent(cast: Cast, practice: Practice, value: str = "") -> int:
    path = reverse("edit-practice", args=[practice.pk])
    return cast.client(cast.head).post(path, {"delete": value}).status_code


def test_a_practice_nothing_was_noted_in_goes_with_its_plan(cast: Cast) -> None:
    practice = practice_of(cast)
    factories.BlockFactory.create(practice=practice)
    client = cast.client(cast.head)
    edit = client.get(reverse("edit-practice", args=[practice.pk])).content.decode()
    assert "Delete this practice" in edit
    assert sent(cast, practice) == 302
    assert not Practice.objects.filter(pk=practice.pk).exists()
    for route in ("team", "practices", "calendar", "readiness"):
        page = client.get(reverse(route, args=[cast.team.pk]))
        assert page.status_code == 200, route
    said = client.get(reverse("team-record", args=[cast.team.pk])).content.decode()
    assert "deleted 1 of the practices" in said
    assert sent(cast, practice) == 404  # once more does no harm


def test_what_was_taken_back_was_not_noted(cast: Cast) -> None:
    """One wrong tap, undone at once, keeps neither a practice nor a game in the calendar."""
    practice = practice_of(cast)
    game = factories.GameFactory.create(team=cast.team, date=DAY)
    rep = factories.RepFactory.create(practice=practice, entry=cast.entry)
    called = CalledPlay.objects.create(
        game=game,
        entry=cast.entry,
        revision=cast.entry.revision,
        taken="none",
        result="turnover",
        at=timezone.now(),
    )
    client, path = cast.client(cast.head), reverse("edit-game", args=[game.pk])
    assert 'name="delete"' not in client.get(path).content.decode()
    said = client.post(path, {"delete": ""}, follow=True).content.decode()
    assert "Something was noted in it: it can only be cancelled." in said
    assert sent(cast, practice) == 302
    assert Practice.objects.filter(pk=practice.pk).exists()
    assert Game.objects.filter(pk=game.pk).exists()
    for tap in (rep, called):
        Undo.objects.create(id=uuid.uuid4(), team=cast.team, rep_id=tap.pk, at=tap.at)
    assert 'name="delete"' in client.get(path).content.decode()
    assert client.post(path, {"delete": ""}).status_code == 302
    assert sent(cast, practice) == 302
    assert not Practice.objects.filter(pk=practice.pk).exists()
    assert not Game.objects.filter(pk=game.pk).exists()
    for route in ("team", "practices", "calendar", "readiness", "which-plays"):
        assert client.get(reverse(route, args=[cast.team.pk])).status_code == 200, route


@pytest.mark.parametrize("noted", ["rep", "attendance"])
def test_a_practice_something_was_noted_in_can_only_be_cancelled(cast: Cast, noted: str) -> None:
    practice = practice_of(cast)
    if noted == "rep":
        factories.RepFactory.create(practice=practice, entry=cast.entry)
    else:
        Attendance.objects.create(practice=practice, player=cast.players[0], presence="late")
    path = reverse("edit-practice", args=[practice.pk])
    assert "Delete this practice" not in cast.client(cast.head).get(path).content.decode()
    assert sent(cast, practice) == 302
    assert Practice.objects.filter(pk=practice.pk).exists()


def test_a_series_goes_from_a_day_on_but_for_what_was_noted(cast: Cast) -> None:
    rule = {"first": DAY, "last": DAY + timedelta(days=27), "weekdays": [str(DAY.weekday())]}
    path = reverse("new-series", args=[cast.team.pk])
    more = {"start": "18:00", "minutes": "90", "every": "1"}
    assert cast.client(cast.head).post(path, {**rule, **more}).status_code == 302
    first, second, third, fourth = cast.team.practices.exclude(series=None).order_by("date")
    Attendance.objects.create(practice=third, player=cast.players[0], presence="late")
    assert sent(cast, second, "following") == 302
    left = set(cast.team.practices.exclude(series=None).values_list("pk", flat=True))
    assert left == {first.pk, third.pk}
    assert fourth.pk not in left


def test_an_install_plan_reads_on_when_a_practice_it_uses_is_taken_out(cast: Cast) -> None:
    today = timezone.localdate()
    game = factories.GameFactory.create(team=cast.team, date=today + timedelta(days=9))
    practice = practice_of(cast, today + timedelta(days=2))
    later = practice_of(cast, today + timedelta(days=4))
    client = cast.client(cast.head)
    client.post(reverse("propose", args=[game.pk]))
    assert sent(cast, practice) == 302
    assert client.get(reverse("install", args=[game.pk])).status_code == 200
    assert client.post(reverse("accept-install", args=[game.pk])).status_code == 302
    assert client.get(reverse("practice", args=[later.pk])).status_code == 200


def test_a_game_that_was_not_played_goes_and_one_that_was_stays(cast: Cast) -> None:
    game = factories.GameFactory.create(team=cast.team, date=DAY)
    client, path = cast.client(cast.head), reverse("edit-game", args=[game.pk])
    assert 'name="delete"' in client.get(path).content.decode()
    client.post(reverse("propose", args=[game.pk]))
    assert client.post(path, {"delete": ""}).status_code == 302
    assert not Game.objects.filter(pk=game.pk).exists()
    for route in ("team", "practices", "calendar", "which-plays"):
        assert client.get(reverse(route, args=[cast.team.pk])).status_code == 200, route


def test_a_pattern_goes_and_the_plan_that_took_it_keeps_its_blocks(cast: Cast) -> None:
    client = cast.client(cast.head)
    client.post(reverse("keep-pattern", args=[cast.practice.pk]), {"name": "Tuesday"})
    pattern = PlanPattern.objects.get(team=cast.team)
    practice = practice_of(cast)
    path = reverse("begin-plan", args=[practice.pk])
    client.post(path, {"source": f"pattern-{pattern.pk}"})
    count = practice.blocks.count()
    assert count > 0
    client.post(path, {"source": "template-usual", "forget": ""})
    assert PlanPattern.objects.filter(pk=pattern.pk).exists()
    client.post(path, {"source": f"pattern-{pattern.pk}", "forget": ""})
    assert not PlanPattern.objects.filter(pk=pattern.pk).exists()
    assert practice.blocks.count() == count


@pytest.mark.parametrize("cancelling", [True, False])
def test_days_off_taken_out_again_tell_of_practices_that_stay_cancelled(
    cast: Cast, cancelling: bool
) -> None:
    """Only of those within the days, and only where there are some."""
    inside, _before = practice_of(cast), practice_of(cast, DAY - timedelta(1), cancelled=True)
    client = cast.client(cast.head)
    off = {"name": "Hall closed", "first": f"{DAY}", "last": f"{DAY}"}
    wish = {"cancel": "on"} if cancelling else {}
    client.post(reverse("add-days-off", args=[cast.team.pk]), {**off, **wish})
    gone = cast.team.days_off.get()
    path = reverse("remove-days-off", args=[cast.team.pk, gone.pk])
    said = client.post(path, follow=True).content.decode()
    assert ("1 practice of those days stays cancelled." in said) is cancelling
    edit = client.get(reverse("edit-practice", args=[inside.pk])).content.decode()
    assert ("Bring it back" in edit) is cancelling
    again = client.post(path, follow=True)  # a second press does no harm
    assert again.status_code == 200
    assert "stays cancelled" not in again.content.decode()
