"""What may happen once happens once, also when eight ask in the same moment."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from django.contrib.auth import authenticate
from django.contrib.sessions.models import Session
from django.db import connections
from django.http import HttpRequest
from django.test import Client
from django.utils import timezone
from pyotp import TOTP

from coachbook.accounts import codes, passkeys
from coachbook.accounts.changes import found_club, new_link, path_of, set_up_path, use_link
from shared.models import Club, User
from tests.authenticator import ORIGIN, Device, base64url
from tests.cast import make_cast

AT_ONCE = 8
VIEWS = "coachbook.accounts.views"

pytestmark = pytest.mark.django_db(transaction=True)


def together(real: Callable[..., Any]) -> Callable[..., Any]:
    """The same function, which lets nobody through before all eight have come to it."""
    barrier = threading.Barrier(AT_ONCE, timeout=30)

    def waiting(*args: Any, **more: Any) -> Any:
        barrier.wait()
        return real(*args, **more)

    return waiting


def posted(path: str, data: dict[str, str]) -> int:
    try:
        return Client(raise_request_exception=False).post(path, data).status_code
    finally:
        connections.close_all()


def answers(paths: list[tuple[str, dict[str, str]]]) -> list[int]:
    with ThreadPoolExecutor(AT_ONCE) as pool:
        return sorted(pool.map(lambda each: posted(*each), paths))


def test_a_link_opens_one_session(monkeypatch: pytest.MonkeyPatch) -> None:
    path = path_of(new_link(make_cast().assistant, timezone.now()))
    monkeypatch.setattr(f"{VIEWS}.use_link", together(use_link))
    assert answers([(path, {})] * AT_ONCE) == [302] + [404] * (AT_ONCE - 1)
    assert Session.objects.count() == 1


def test_the_first_page_has_one_winner(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(f"{VIEWS}.found_club", together(found_club))
    sent = [
        {"club": "River", "name": "Rana", "username": f"rana{n}", "password": "heron lamp 19 oar"}
        for n in range(AT_ONCE)
    ]
    path = set_up_path()
    assert answers([(path, data) for data in sent]) == [302] + [404] * (AT_ONCE - 1)
    assert (Club.objects.count(), User.objects.count()) == (1, 1)


def test_a_one_time_code_opens_one_session(monkeypatch: pytest.MonkeyPatch) -> None:
    head = make_cast().head
    codes.switch_on(head, "nonce", 0)
    monkeypatch.setattr(f"{VIEWS}_codes.authenticate", together(authenticate))
    browsers = [Client(raise_request_exception=False) for _ in range(AT_ONCE)]
    for browser in browsers:
        browser.post("/sign-in/", {"username": "head", "password": "head-password"})
    code = TOTP(codes.secret_of("nonce", head)).now()

    def said(browser: Client) -> int:
        try:
            return browser.post("/sign-in/code/", {"code": code}).status_code
        finally:
            connections.close_all()

    with ThreadPoolExecutor(AT_ONCE) as pool:
        assert min(pool.map(said, browsers)) == 302
    assert [browser.get("/").status_code for browser in browsers].count(200) == 1


def test_an_answer_of_a_passkey_opens_one_session(monkeypatch: pytest.MonkeyPatch) -> None:
    """Eight send it at once, each of which has read the question before one has used it up."""
    head, question = make_cast().head, passkeys.PasskeyQuestion(b"1" * 32, base64url(b"2" * 32))
    asked = {"challenge": base64url(question.challenge), "rpId": "localhost"}
    person = {"rp": {"id": "localhost"}, "user": {"id": question.handle}}
    site = passkeys.Site("localhost", ORIGIN)
    device, made = Device().makes(asked | person)
    passkeys.add(head, "Phone", passkeys.Said(site, question, made))
    said = passkeys.Said(site, question, device.answers(asked))
    monkeypatch.setattr(passkeys, "_checked", together(passkeys._checked))

    def taken(_n: int) -> bool:
        try:
            door = passkeys.PasskeyBackend()
            return door.authenticate(HttpRequest(), "passkey of head", said) is not None
        finally:
            connections.close_all()

    with ThreadPoolExecutor(AT_ONCE) as pool:
        assert sorted(pool.map(taken, range(AT_ONCE))) == [False] * (AT_ONCE - 1) + [True]
