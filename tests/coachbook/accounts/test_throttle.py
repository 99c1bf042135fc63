"""Many names tried from one address, and the staff who share that address."""

from __future__ import annotations

import pytest
from axes.models import AccessAttempt
from django.core.signing import Signer
from django.test import Client
from django.utils import timezone

from coachbook.accounts.changes import new_link, path_of
from coachbook.accounts.throttle import COOKIE, MOST
from tests.cast import Cast

HALL = "10.9.8.7"
RIGHT = {"username": "head", "password": "head-password"}
TRIES, NAMES = 300, 60


def tried(client: Client, name: str) -> int:
    sent = {"username": name, "password": "nonsense"}
    return client.post("/sign-in/", sent).status_code


@pytest.fixture
def known(cast: Cast) -> Client:
    """The head coach's own phone in the hall, signed in yesterday and out again."""
    client = Client(REMOTE_ADDR=HALL)
    client.post("/sign-in/", RIGHT)
    client.post("/sign-out/")
    return client


def attacked() -> list[int]:
    guesser = Client(REMOTE_ADDR=HALL)
    return [tried(guesser, f"coach{n % NAMES}") for n in range(TRIES)]


def test_300_tries_over_60_names_are_met(cast: Cast) -> None:
    statuses = attacked()
    assert statuses[:MOST] == [200] * MOST
    assert statuses[MOST:] == [429] * (TRIES - MOST)
    assert Client(REMOTE_ADDR=HALL).post("/sign-in/", RIGHT).status_code == 429
    assert Client(REMOTE_ADDR="10.1.1.1").post("/sign-in/", RIGHT).status_code == 302


def test_who_signed_in_on_this_device_before_is_let_on(cast: Cast, known: Client) -> None:
    attacked()
    assert tried(known, "runner") == 429  # the device is the head coach's
    assert known.post("/sign-in/", RIGHT).headers["Location"] == "/"


def test_a_link_opens_in_the_same_hall(cast: Cast) -> None:
    attacked()
    path = path_of(new_link(cast.assistant, timezone.now()))
    client = Client(REMOTE_ADDR=HALL)
    assert client.post(path).headers["Location"] == "/account/"
    assert client.cookies[COOKIE]["httponly"]


def test_who_is_signed_in_says_the_password_again_all_the_same(cast: Cast) -> None:
    attacked()
    client = cast.client(cast.head)
    client.defaults["REMOTE_ADDR"] = HALL
    sent = {"old": RIGHT["password"], "password": "heron lamp 19 oar"}
    assert client.post("/account/", sent).headers["Location"] == "/"


def test_a_known_device_guesses_no_more_than_others(cast: Cast, known: Client) -> None:
    assert [tried(known, "head") for _ in range(7)][-1] == 429


@pytest.mark.parametrize("forged", ["", "{pk}", "{pk}:nonsense", "other"])
def test_a_device_that_says_it_is_known_is_not(cast: Cast, forged: str) -> None:
    attacked()
    client = Client(REMOTE_ADDR=HALL)
    own = str(cast.head.pk)
    elsewhere = Signer(salt="other").sign(own)
    client.cookies[COOKIE] = elsewhere if forged == "other" else forged.format(pk=own)
    assert client.post("/sign-in/", RIGHT).status_code == 429


def test_wrong_tries_leave_no_password_behind(cast: Cast) -> None:
    client = cast.client(cast.head)
    client.post("/account/", {"old": "nearly-the-one", "password": "heron lamp 19 oar"})
    tried(Client(), "head")
    kept = [row.post_data for row in AccessAttempt.objects.all()]
    assert kept
    assert not [text for text in kept if "nearly" in text or "nonsense" in text or "oar" in text]
