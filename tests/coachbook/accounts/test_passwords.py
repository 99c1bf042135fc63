"""Which passwords pass, who may change one, and what ends with the old one."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.test import Client
from django.utils import timezone

from coachbook.accounts.changes import new_link, path_of
from shared.models import Change, User
from tests.cast import Cast

GOOD = "heron lamp 19 oar"
OLD = "head-password"  # of the cast's head coach


@pytest.mark.parametrize(
    "password",
    [
        "shortenough",  # eleven
        "basketball12!",
        "Basketball-2026",
        "p4ssw0rd!!!!!",
        "password-password",
        "aaaaaaaaaaaaaa",
        "lake lake lake lake",
        "abcdefghijklm",
        "poiuytrewq99!",
        "123456789012",
        "hedda lindqvist",
        "!!123456!!!!!",
    ],
)
def test_what_is_guessed_early_is_refused(password: str) -> None:
    person = User(username="hedda", name="Hedda Lindqvist")
    with pytest.raises(ValidationError):
        validate_password(password, person)


@pytest.mark.parametrize("password", [GOOD, "Vier Ruder im Schilf", "x9!kQ2#vLp0z"])
def test_what_is_not_passes(password: str) -> None:
    validate_password(password, User(username="hedda", name="Hedda"))


def test_a_change_asks_for_the_old_password(cast: Cast) -> None:
    client = cast.client(cast.head)
    for old in ("", "nonsense"):
        refused = client.post("/account/", {"old": old, "password": GOOD})
        assert refused.status_code == 422
        assert 'id="id_old_error"' in refused.content.decode()
    assert client.post("/account/", {"old": OLD, "password": GOOD}).status_code == 302
    cast.head.refresh_from_db()
    assert cast.head.check_password(GOOD)
    assert client.get("/account/").status_code == 200  # this session goes on
    assert Change.objects.filter(verb="chose a password", user=cast.head).count() == 1


def test_wrong_old_passwords_lock_the_name(cast: Cast) -> None:
    client = cast.client(cast.head)
    tries = [
        client.post("/account/", {"old": "nonsense", "password": GOOD}).status_code
        for _ in range(7)
    ]
    assert tries[-1] == 429
    assert client.post("/account/", {"old": OLD, "password": GOOD}).status_code == 429


def test_every_link_and_other_session_ends_with_the_old_password(cast: Cast) -> None:
    other = cast.client(cast.head)
    paths = [path_of(new_link(cast.head, timezone.now(), once=once)) for once in (True, False)]
    kept = path_of(new_link(cast.assistant, timezone.now()))
    cast.client(cast.head).post("/account/", {"old": OLD, "password": GOOD})
    assert [Client().post(path).status_code for path in paths] == [404, 404]
    assert other.get("/account/").status_code == 302
    assert Client().post(kept).status_code == 302


def test_who_comes_by_a_link_chooses_without_the_old_one_for_a_while(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    client = Client()
    path = path_of(new_link(cast.head, timezone.now()))
    assert client.post(path).headers["Location"] == "/account/"
    assert "id_old" not in client.get("/account/").content.decode()
    now = timezone.now()
    monkeypatch.setattr("django.utils.timezone.now", lambda: now + timedelta(minutes=16))
    assert "id_old" in client.get("/account/").content.decode()
    monkeypatch.undo()
    assert client.post("/account/", {"password": GOOD}).status_code == 302
    assert "id_old" in client.get("/account/").content.decode()


def test_a_link_that_opens_often_does_not_stand_for_the_old_password(cast: Cast) -> None:
    client = Client()
    client.post(path_of(new_link(cast.head, timezone.now(), once=False)))
    assert client.post("/account/", {"password": GOOD}).status_code == 422
