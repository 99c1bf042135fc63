"""The password asked again: before what, for how long, and with nothing typed twice."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
from html import unescape
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from roster.models import PlayerLink
from shared.models import User
from tests.cast import Cast

PASSWORD = "head-password"  # of the cast's head coach
HIDDEN = re.compile(r'<input type="hidden" name="([^"]+)" value="([^"]*)">')


@pytest.fixture
def later(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> Client:
    """The head coach, who runs the club, at a device that was left open ten minutes ago."""
    User.objects.filter(pk=cast.head.pk).update(runs_club=True)
    cast.head.refresh_from_db()
    client = cast.client(cast.head)
    pass_time(monkeypatch, 10)
    return client


def pass_time(monkeypatch: pytest.MonkeyPatch, minutes: int) -> None:
    now: datetime = timezone.now() + timedelta(minutes=minutes)
    monkeypatch.setattr("shared.sure.timezone.now", lambda: now)


def doors(cast: Cast) -> dict[str, tuple[str, str, dict[str, Any]]]:
    """By name: method, address and what is sent."""
    team, player, person = [cast.team.pk], [cast.players[0].pk], [cast.assistant.pk]
    invited = {"name": "Ulla", "username": "ulla", "duty": "assistant"}
    return {
        "rights": ("post", reverse("staff-person", args=person), {"keeps_library": "on"}),
        "place": ("post", reverse("staff-place", args=person), {"team": 1, "duty": "head"}),
        "duty": ("post", reverse("change-duty", args=team + person), {"duty": "head"}),
        "out of a team": ("post", reverse("leave-staff", args=team + person), {}),
        "out of the site": ("post", reverse("remove-person", args=person), {}),
        "back": ("post", reverse("bring-back-person", args=person), {}),
        "invitation": ("post", reverse("staff"), invited),
        "sign-in link": ("post", reverse("staff-link", args=person), {}),
        "all links": ("get", reverse("link-cards", args=team), {}),
        "missing links": ("post", reverse("make-links", args=team), {}),
        "one link": ("post", reverse("new-link", args=player), {}),
        "calendars": ("get", reverse("feeds", args=team), {}),
        "calendar": ("post", reverse("feeds", args=team), {}),
        "roster file": ("get", reverse("export-roster", args=team), {}),
        "held": ("get", reverse("player-data-file", args=[*player, "json"]), {}),
        "library file": ("get", reverse("library-file"), {}),
        "erasing": ("post", reverse("player-data", args=player), {"typed": "on"}),
        "after the season": ("post", reverse("retention", args=team), {}),
        "delete": ("post", reverse("delete-team", args=team), {"name": "x"}),
    }


NAMES = (
    *("rights", "place", "duty", "out of a team", "out of the site", "back", "invitation"),
    *("sign-in link", "all links", "missing links", "one link", "calendars", "calendar"),
    *("roster file", "held", "library file", "erasing", "after the season", "delete"),
)


@pytest.mark.parametrize("name", NAMES)
def test_ten_minutes_later_it_asks_and_carries_what_was_sent(
    cast: Cast, later: Client, name: str
) -> None:
    method, path, sent = doors(cast)[name]
    people = list(User.objects.order_by("pk").values())
    asked = getattr(later, method)(path, sent)
    page = asked.content.decode()
    assert 'name="sure_password"' in page
    assert "no-store" in asked.headers["Cache-Control"]
    assert list(User.objects.order_by("pk").values()) == people
    assert not PlayerLink.objects.exists()
    carried = {key: unescape(value) for key, value in HIDDEN.findall(page)}
    carried.pop("csrfmiddlewaretoken", None)
    expected = {key: str(value) for key, value in sent.items()}
    assert carried == (expected if method == "post" else {"sure_get": "1"})
    answer = later.post(path, carried | {"sure_password": PASSWORD})
    assert 'name="sure_password"' not in answer.content.decode()
    assert answer.status_code in {200, 302, 422}
    if method == "get":
        assert answer.headers["Location"] == path
        assert later.get(path).status_code == 200


def test_what_was_asked_for_is_done_once_the_password_is_right(cast: Cast, later: Client) -> None:
    path = reverse("staff-person", args=[cast.assistant.pk])
    wrong = later.post(path, {"keeps_library": "on", "sure_password": "nonsense"})
    assert wrong.status_code == 422
    assert "This is not your present password." in wrong.content.decode()
    assert not User.objects.get(pk=cast.assistant.pk).keeps_library
    later.post(path, {"keeps_library": "on", "sure_password": PASSWORD})
    assert User.objects.get(pk=cast.assistant.pk).keeps_library


def test_it_is_asked_once_in_ten_minutes(
    cast: Cast, later: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = reverse("export-roster", args=[cast.team.pk])
    later.post(path, {"sure_get": "1", "sure_password": PASSWORD})
    pass_time(monkeypatch, 9)
    assert later.get(path).headers["Content-Type"].startswith("text/csv")
    pass_time(monkeypatch, 2)
    assert "sure_password" in later.get(path).content.decode()


def test_wrong_tries_lock_the_name(cast: Cast, later: Client) -> None:
    path = reverse("export-roster", args=[cast.team.pk])
    sent = {"sure_get": "1", "sure_password": "nonsense"}
    assert [later.post(path, sent).status_code for _ in range(7)][-1] == 429


def test_who_has_no_password_chooses_one_first(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    client = cast.client(cast.runner)
    pass_time(monkeypatch, 10)
    answer = client.post(reverse("staff-link", args=[cast.assistant.pk]))
    assert (answer.status_code, answer.headers["Location"]) == (302, "/account/")


def test_closing_a_link_and_reading_are_never_held_up(cast: Cast, later: Client) -> None:
    for name in ("withdraw-link", "withdraw-staff-link"):
        pk = cast.players[0].pk if name == "withdraw-link" else cast.assistant.pk
        assert later.post(reverse(name, args=[pk])).status_code == 302
    for path in (reverse("staff"), reverse("player-data", args=[cast.players[0].pk])):
        assert "sure_password" not in later.get(path).content.decode()
