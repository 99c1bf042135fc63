"""The first page, signing in and out, links and invitations."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from coachbook.accounts.changes import new_link, path_of, set_up_path
from shared.models import Club, User
from tests.cast import Cast

FOUNDING = {
    "club": "Lindwater",
    "name": "Hedda",
    "username": "hedda",
    "password": "heron lamp 19 oar",
}


@pytest.mark.django_db
def test_the_first_page_founds_the_club_once() -> None:
    client = Client()
    assert client.get("/").headers["Location"] == "/set-up/"
    assert client.post(set_up_path(), FOUNDING).headers["Location"] == "/"
    assert Club.objects.get().name == "Lindwater"
    assert User.objects.get().runs_club
    assert client.get("/").status_code == 200
    assert Client().post(set_up_path(), FOUNDING).status_code == 404
    assert User.objects.count() == 1


@pytest.mark.django_db
def test_who_does_not_know_the_printed_address_founds_nothing() -> None:
    client = Client()
    assert "no club yet" in client.get("/set-up/").content.decode()
    assert client.post("/set-up/", FOUNDING).status_code == 405
    for guess in ("set-up", set_up_path().split("/")[2][:-1] + "x"):
        assert client.post(f"/set-up/{guess}/", FOUNDING).status_code == 404
    assert not Club.objects.exists()


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("password", "heron lamp", "at least 12 characters"),
        ("password", "basketball12!", "easy to guess"),
        ("password", "hedda-hedda-1", "easy to guess"),
        ("username", "hedda<b>", "Two letters or digits at least"),
        ("club", "", "required"),
    ],
)
def test_a_fault_is_told_at_its_field_and_nothing_is_lost(
    field: str, value: str, said: str
) -> None:
    response = Client().post(set_up_path(), {**FOUNDING, field: value})
    assert response.status_code == 422
    text = response.content.decode()
    assert said in text
    assert f'id="id_{field}_error"' in text
    kept = "Hedda" if field != "name" else "Lindwater"
    assert f'value="{kept}"' in text
    assert not User.objects.exists()


def test_a_password_opens_and_a_wrong_one_does_not(cast: Cast) -> None:
    client = Client()
    wrong = client.post("/sign-in/", {"username": "head", "password": "nonsense"})
    assert wrong.status_code == 200
    right = client.post("/sign-in/", {"username": "head", "password": "head-password"})
    assert right.headers["Location"] == "/"


def test_after_many_wrong_tries_the_name_is_locked_at_that_address(cast: Cast) -> None:
    client = Client()
    statuses = [
        client.post("/sign-in/", {"username": "head", "password": "nonsense"}).status_code
        for _ in range(7)
    ]
    assert statuses[-1] == 429
    elsewhere = Client(REMOTE_ADDR="10.1.1.1")
    opened = elsewhere.post("/sign-in/", {"username": "head", "password": "head-password"})
    assert opened.status_code == 302


def test_a_link_signs_in_once_and_only_on_the_button(cast: Cast) -> None:
    path = path_of(new_link(cast.assistant, timezone.now()))
    client = Client()
    assert client.get(path).status_code == 200
    assert client.get(path).status_code == 200  # a preview does not use it up
    assert client.post(path).status_code == 302
    assert client.get("/library/").status_code == 200
    assert Client().post(path).status_code == 404


def test_a_link_ends(cast: Cast) -> None:
    link = new_link(cast.assistant, timezone.now(), lasts=timedelta(days=-1))
    assert Client().get(path_of(link)).status_code == 404


def test_an_invitation_makes_an_account_and_a_place(cast: Cast) -> None:
    client = cast.client(cast.runner)
    data = {"name": "Ada", "username": "ada", "team": cast.team.pk, "duty": "assistant"}
    response = client.post("/staff/", data, follow=True)
    path = response.context["address"].removeprefix("http://testserver")
    newcomer = Client()
    assert newcomer.post(path).headers["Location"] == "/account/"
    assert newcomer.post("/account/", {"password": "heron lamp 19 oar"}).status_code == 302
    assert newcomer.get(f"/teams/{cast.team.pk}/").status_code == 200
    again = client.post("/staff/", data)
    assert "signs in with that name already" in again.content.decode()


def test_every_answer_carries_its_headers(cast: Cast) -> None:
    headers = cast.client(cast.head).get("/").headers
    assert "script-src 'self'" in headers["Content-Security-Policy"]
    assert headers["X-Robots-Tag"] == "noindex, nofollow"
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["Cache-Control"] == "private, no-cache"
