"""Where somebody is signed in: told in plain words, ended by its owner and nobody else."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest
from django.core.cache import cache
from django.db import DatabaseError
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from coachbook.accounts import devices
from shared.models import OpenSession, User
from tests.cast import Cast

# As the browsers' makers write them; versions from memory.
PHONE = (
    "Mozilla/5.0 (Linux; Android 14; K) AppleWebKit/537.36 (KHTML, like Gecko) "
    "Chrome/129.0.0.0 Mobile Safari/537.36"
)
AGENTS = {
    PHONE: "Chrome on Android",
    "Mozilla/5.0 (X11; Linux x86_64; rv:131.0) Gecko/20100101 Firefox/131.0": "Firefox on Linux",
    "Mozilla/5.0 (iPhone; CPU iPhone OS 17_6 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like "
    "Gecko) Version/17.6 Mobile/15E148 Safari/604.1": "Safari on iPhone",
    "Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) "
    "Chrome/129.0.0.0 Safari/537.36 Edg/129.0.0.0": "Edge on Windows",
    "curl/8.5.0": "A device that does not say what it is",
    "": "A device that does not say what it is",
}


def signed_in(user: User, agent: str) -> Client:
    client = Client(headers={"user-agent": agent})
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    assert client.get("/").status_code == 200
    return client


@pytest.mark.parametrize("agent", AGENTS)
def test_a_browser_in_words(agent: str) -> None:
    assert devices.in_words(agent) == AGENTS[agent]


def test_the_owner_sees_each_device_and_when_it_was_last_seen(cast: Cast) -> None:
    signed_in(cast.head, PHONE)
    OpenSession.objects.update(seen_at=timezone.now() - timedelta(days=3))
    signed_in(cast.assistant, "elsewhere")
    here = signed_in(cast.head, next(agent for agent in AGENTS if "Firefox" in agent))
    page = here.get("/account/").content.decode()
    words = re.findall(r"<strong>(.*? on .*?)</strong>", page)
    assert words == ["Firefox on Linux", "Chrome on Android"]
    day = timezone.localtime() - timedelta(days=3)
    assert f"last seen {day.day} {day:%b}" in page
    assert page.count("this device") == 1


def test_a_device_that_is_ended_is_out_with_its_next_tap(cast: Cast) -> None:
    lost, here = signed_in(cast.head, PHONE), signed_in(cast.head, "Firefox/131 Linux")
    row = cast.head.open_sessions.get(agent=PHONE)
    assert here.post(reverse("end-session", args=[row.pk])).status_code == 302
    assert lost.get("/account/").status_code == 302
    assert here.get("/account/").status_code == 200
    assert cast.head.open_sessions.count() == 1


def test_all_others_at_once_and_nobody_elses(cast: Cast) -> None:
    others = [signed_in(cast.head, f"Firefox/{n} Android") for n in range(3)]
    mate, here = signed_in(cast.assistant, PHONE), signed_in(cast.head, PHONE)
    assert here.post(reverse("end-other-sessions")).status_code == 302
    assert [each.get("/account/").status_code for each in others] == [302] * 3
    assert (mate.get("/").status_code, here.get("/").status_code) == (200, 200)


def test_nobody_ends_somebody_elses(cast: Cast) -> None:
    signed_in(cast.head, PHONE)
    row = cast.head.open_sessions.get()
    path = reverse("end-session", args=[row.pk])
    assert cast.client(cast.runner).post(path).status_code == 404
    assert OpenSession.objects.filter(pk=row.pk).exists()


def test_a_new_password_leaves_this_device_alone(cast: Cast) -> None:
    signed_in(cast.head, PHONE)
    here = signed_in(cast.head, "Firefox/131 Linux")
    said = {"old": "head-password", "password": "heron lamp 19 oar"}
    assert here.post("/account/", said).status_code == 302
    here.get("/account/")
    assert [row.agent for row in devices.open_sessions(cast.head)] == ["Firefox/131 Linux"]


def test_a_session_that_is_over_is_not_listed(cast: Cast) -> None:
    gone, here = signed_in(cast.head, PHONE), signed_in(cast.head, "Firefox/131 Linux")
    gone.post("/sign-out/")
    assert "Chrome on Android" not in here.get("/account/").content.decode()


def test_a_device_is_written_down_now_and_then_and_costs_no_page(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    client = signed_in(cast.head, PHONE)
    seen = OpenSession.objects.get().seen_at
    client.get("/library/")
    assert OpenSession.objects.get().seen_at == seen
    cache.clear()  # five minutes later

    def full(*_: object, **_more: object) -> None:
        raise DatabaseError

    monkeypatch.setattr(devices, "_see", full)
    assert client.get("/library/").status_code == 200
    monkeypatch.undo()
    assert OpenSession.objects.get().seen_at == seen
    client.get("/library/")  # the next page writes it down, and not one in five minutes
    assert OpenSession.objects.get().seen_at > seen


def later(monkeypatch: pytest.MonkeyPatch, days: float) -> None:
    """Some days after now, for everything that asks the clock of the framework."""
    now = datetime.now(UTC) + timedelta(days=days)
    monkeypatch.setattr(timezone, "now", lambda: now)
    cache.clear()


def test_a_device_that_rests_for_three_weeks_is_signed_out(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    used, resting = signed_in(cast.head, PHONE), signed_in(cast.head, "Firefox/131 Linux")
    later(monkeypatch, 10)
    assert used.get("/account/").status_code == 200
    later(monkeypatch, 22)
    assert used.get("/account/").status_code == 200
    assert resting.get("/account/").headers["Location"] == "/sign-in/?next=/account/"
    assert resting.post("/account/devices/end/").status_code == 302
    assert [row.agent for row in devices.open_sessions(cast.head)] == [PHONE]


def test_after_thirty_days_it_ends_however_much_it_is_used(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever else is written into the session gives it no new life."""
    phone = signed_in(cast.head, PHONE)
    for day in (9, 18, 27):
        later(monkeypatch, day)
        sent = {"sure_password": "head-password", "for": "team"}
        assert phone.post(reverse("feeds", args=[cast.team.pk]), sent).status_code == 302
    later(monkeypatch, 29.9)
    assert phone.get("/account/").status_code == 200
    later(monkeypatch, 30.1)
    assert phone.get("/account/").status_code == 302


def test_a_clock_that_was_years_back_is_no_rest(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    phone = signed_in(cast.head, PHONE)
    for days in (-1500, 0, 2):
        later(monkeypatch, days)
        assert phone.get("/account/").status_code == 200
