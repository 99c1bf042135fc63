"""What the log says of signing in: who, how, from where, and nothing that opens a door.

The events are those that OWASP's Logging Cheat Sheet and ASVS 5.0, V16.3, ask for (from memory):
success, failure, lock, leaving. Both ask that no secret stands there.
"""

from __future__ import annotations

import io
import json
import logging
from collections.abc import Iterator
from datetime import datetime
from typing import Any

import pytest
from django.conf import settings as site
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from pyotp import TOTP

from coachbook.accounts import codes
from coachbook.accounts.changes import new_link, path_of, set_up_path
from coachbook.accounts.sign_in_log import SIGN_INS
from coachbook.accounts.throttle import MOST
from coachbook.log_lines import AsJson
from shared.models import AskedOf, Club, Passkey
from tests.authenticator import Device
from tests.cast import Cast
from tests.coachbook.accounts.test_passkeys import added, at_home, enter, visitor
from tests.coachbook.accounts.test_signing_in import FOUNDING

RIGHT = {"username": "head", "password": "head-password"}
Said = tuple[str, str, str | None]


class Log:
    """What a console shows where the setting says JSON."""

    def __init__(self) -> None:
        self.out = io.StringIO()

    @property
    def lines(self) -> list[dict[str, Any]]:
        return [json.loads(line) for line in self.out.getvalue().splitlines()]

    @property
    def said(self) -> list[Said]:
        """What happened, to whom, and how."""
        return [(line["event"], line["who"], line.get("how")) for line in self.lines]


@pytest.fixture
def log() -> Iterator[Log]:
    made = Log()
    handler = logging.StreamHandler(made.out)
    handler.setFormatter(AsJson())
    SIGN_INS.addHandler(handler)
    yield made
    SIGN_INS.removeHandler(handler)


def client_at(address: str) -> Client:
    return Client(REMOTE_ADDR=address)


def test_a_line_says_who_how_when_and_from_where(cast: Cast, log: Log) -> None:
    before = timezone.now()
    client = client_at("10.7.7.7")
    client.post("/sign-in/", RIGHT)
    client.post("/sign-out/")
    came, left = log.lines
    assert (came["event"], came["who"], came["how"]) == ("signed in", "head", "password")
    assert came["message"] == "signed in: head by password from 10.7.7.7"
    assert {came["from"], left["from"]} == {"10.7.7.7"}
    assert (left["event"], left["who"]) == ("signed out", "head")
    assert (came["level"], left["level"]) == ("INFO", "INFO")
    assert abs((datetime.fromisoformat(came["time"]) - before).total_seconds()) < 60


def test_every_way_in_has_its_name(cast: Cast, log: Log) -> None:
    link = new_link(cast.head, timezone.now())
    Client().post(path_of(link))
    device = added(at_home(cast, cast.head), Device())
    enter(visitor(), device)
    step = int(timezone.now().timestamp() // 30)
    codes.switch_on(cast.head, "nonce", step - 60)
    phone = TOTP(codes.secret_of("nonce", cast.head))
    client = Client()
    client.post("/sign-in/", RIGHT)
    client.post("/sign-in/code/", {"code": phone.at(step * 30)})
    recovery = codes.new_recovery_codes(cast.head)
    assert recovery is not None
    client = Client()
    client.post(path_of(new_link(cast.head, timezone.now())))
    client.post("/sign-in/code/", {"code": recovery[0]})
    ways = ["link", "passkey", "password and code", "link and code"]
    assert log.said == [("signed in", "head", way) for way in ways]
    secrets = [path_of(link).split("/")[2], phone.secret, recovery[0], recovery[0].replace(" ", "")]
    assert not [each for each in secrets if each in log.out.getvalue()]


@pytest.mark.django_db
def test_the_first_page_is_a_way_in(log: Log) -> None:
    Client().post(set_up_path(), FOUNDING)
    assert log.said == [("signed in", "hedda", "first page")]
    assert FOUNDING["password"] not in log.out.getvalue()


def test_wrong_tries_and_the_lock(cast: Cast, log: Log) -> None:
    client = client_at("10.0.0.9")
    for _ in range(7):
        client.post("/sign-in/", RIGHT | {"password": "nonsense-nonsense"})
    client.post("/sign-in/", RIGHT)
    wrong, locked = ("refused", "head", "password"), ("locked", "head", "password")
    assert log.said == [wrong] * 5 + [locked] * 3
    assert {line["level"] for line in log.lines} == {"WARNING"}
    assert "nonsense" not in log.out.getvalue()


def test_a_password_in_the_field_of_the_name_is_not_written_down(cast: Cast, log: Log) -> None:
    for slipped in ("heron lamp 19 oar", "\x00", "head\nsigned in: runner by password"):
        Client().post("/sign-in/", {"username": slipped, "password": "x"})
    assert {who for _what, who, _how in log.said} <= {"a name that nobody has"}
    assert log.said
    assert "heron" not in log.out.getvalue()
    assert "runner" not in log.out.getvalue()


def test_many_names_from_one_address_are_told_as_locked(cast: Cast, log: Log) -> None:
    client = client_at("10.0.0.8")
    for number in range(MOST):
        client.post("/sign-in/", {"username": f"nobody{number}", "password": "x"})
    client.post("/sign-in/", RIGHT)
    assert log.said[-1] == ("locked", "head", "password")


def test_wrong_codes_passkeys_and_links(cast: Cast, log: Log) -> None:
    device = added(at_home(cast, cast.head), Device())
    codes.switch_on(cast.head, "nonce", 0)
    client = Client()
    client.post("/sign-in/", RIGHT)
    client.post("/sign-in/code/", {"code": "000000"})
    enter(visitor(), device, signature=b"")
    link = new_link(cast.head, timezone.now())
    path = path_of(link)
    link.delete()
    Client().post(path)
    assert log.said == [
        ("refused", "head", "code"),
        ("refused", "head", "passkey"),
        ("refused", "nobody", "link"),
    ]


def test_the_password_asked_once_more_counts_as_a_try(cast: Cast, log: Log) -> None:
    client = Client()
    client.post("/sign-in/", RIGHT)
    session = client.session
    session["sure_at"] = 0
    session.save()
    client.post("/account/codes/", {"sure_password": "nonsense"})
    assert log.said[1:] == [("refused", "head", "password")]


def test_the_password_where_the_passkey_is_asked_for(cast: Cast, log: Log) -> None:
    Passkey.objects.create(user=cast.head, name="Phone", credential="c", public_key="k")
    Club.objects.update(asks_second_step=AskedOf.STAFF)
    Client().post("/sign-in/", RIGHT)
    assert log.said == [("refused", "head", "password")]


def test_lines_for_people_have_them_too() -> None:
    """Without COACHBOOK_LOG the log keeps to what is wrong, and to who signs in."""
    loggers: Any = site.LOGGING["loggers"]
    assert SIGN_INS.name == "coachbook.sign_ins"
    assert loggers[SIGN_INS.name]["level"] == "INFO"


def test_pages_of_players_write_nothing_about_signing_in(cast: Cast, log: Log) -> None:
    Client().get(reverse("sign-in"))
    Client().get("/")
    assert log.said == []
