"""A real site behind a real nginx with the very file that the help pages hand out."""

from __future__ import annotations

import http.client
import socket
import time
from collections.abc import Iterator
from urllib.parse import urlencode

import pytest

from tests.coachbook.proxied import NAME, Answer, Proxied, proxied_site
from tests.machine import needs

TOKEN = "abcdefghijklmnopqrstuv.abcdefghijklmnopqrstuvwxyz0123456789abcdefg"

pytestmark = needs("nginx", "openssl")


@pytest.fixture(scope="module")
def proxied(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Proxied]:
    with proxied_site(tmp_path_factory.mktemp("proxy")) as made:
        yield made


def test_https_reaches_a_page_and_not_itself(proxied: Proxied) -> None:
    answer = proxied.ask("/health/")
    assert (answer.status, answer.text) == (200, "ok")  # type: ignore[attr-defined]
    assert "max-age=31536000" in str(answer.headers["Strict-Transport-Security"])


def test_cookies_travel_encrypted_only_and_forms_are_taken(proxied: Proxied) -> None:
    assert sign_in(proxied, "127.0.0.9", "nobody").status == 200
    printed = f"https://{NAME}:{proxied.secure}/set-up/"
    line = next(line for line in proxied.site.said().splitlines() if line.startswith(printed))
    first_page = proxied.ask("/set-up/" + line.removeprefix(printed))
    assert first_page.status == 200
    assert "Secure" in str(first_page.headers["Set-Cookie"])


def sign_in(proxied: Proxied, source: str, name: str, **headers: str) -> Answer:
    """One wrong try, with the token of the form as a browser sends it."""
    secret = "a" * 32
    body = urlencode({"username": name, "password": "nonsense", "csrfmiddlewaretoken": secret})
    return proxied.ask(
        "/sign-in/",
        source,
        body,
        Cookie=f"csrftoken={secret}",
        Content_Type="application/x-www-form-urlencoded",
        Origin=f"https://{NAME}:{proxied.secure}",
        Referer=f"https://{NAME}:{proxied.secure}/sign-in/",
        **headers,
    )


def test_the_lock_sees_the_visitor_and_not_the_proxy(proxied: Proxied) -> None:
    """Six wrong tries lock a name at one address; a claimed address changes nothing."""
    forged = {"X_Forwarded_For": "203.0.113.9"}
    tries = [sign_in(proxied, "127.0.0.2", "head", **forged).status for _ in range(7)]
    assert tries[-1] == 429
    assert sign_in(proxied, "127.0.0.3", "head", **forged).status == 200


def test_plain_http_is_sent_to_https(proxied: Proxied) -> None:
    connection = http.client.HTTPConnection("127.0.0.1", proxied.plain, timeout=30)
    connection.request("GET", "/library/", headers={"Host": NAME})
    answer = connection.getresponse()
    assert (answer.status, answer.headers["Location"]) == (301, f"https://{NAME}/library/")
    connection.close()


def test_no_log_of_the_proxy_holds_a_link(proxied: Proxied) -> None:
    for door in ("sign-in", "my", "set-up"):
        assert proxied.ask(f"/{door}/{TOKEN}/?from=here").status == 404
    assert proxied.ask("/calendar/" + TOKEN + ".ics").status == 404
    time.sleep(0.2)
    assert "/my/..." in proxied.logged()
    assert TOKEN not in proxied.logged()
    assert TOKEN[:22] not in proxied.logged()


def test_half_open_requests_at_the_proxy_stop_nobody(proxied: Proxied) -> None:
    waiting = []
    try:
        for _ in range(150):
            found = socket.create_connection(("127.0.0.1", proxied.secure), 10, ("127.0.0.5", 0))
            waiting.append(found)
        assert proxied.ask("/health/").status == 200
    finally:
        for found in waiting:
            found.close()
