"""A real site behind a real nginx with the very file that the help pages hand out."""

from __future__ import annotations

import http.client
import socket
import ssl
import time
from collections.abc import Iterator
from http.cookies import SimpleCookie
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
        Cookie=f"__Host-csrftoken={secret}",
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
    for door in ("sign-in", "my", "set-up", "shared", "account/mail"):
        assert proxied.ask(f"/{door}/{TOKEN}/?from=here").status in {302, 404}
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


@pytest.mark.parametrize(
    ("version", "ciphers", "is_taken"),
    [
        (ssl.TLSVersion.TLSv1_3, "DEFAULT", True),
        (ssl.TLSVersion.TLSv1_2, "ECDHE+AESGCM", True),
        (ssl.TLSVersion.TLSv1_2, "AES128-GCM-SHA256", False),  # one key for all that is kept
        (ssl.TLSVersion.TLSv1_2, "ECDHE-RSA-AES128-SHA", False),  # padding before authenticating
    ],
)
def test_only_what_is_thought_safe_is_spoken(
    proxied: Proxied, version: ssl.TLSVersion, ciphers: str, is_taken: bool
) -> None:
    """RFC 9325, 4.2: forward secrecy and authenticated encryption alone."""
    asked = ssl.create_default_context(cafile=str(proxied.folder / "certificate.pem"))
    asked.minimum_version = asked.maximum_version = version
    asked.set_ciphers(ciphers)
    with socket.create_connection(("127.0.0.1", proxied.secure), 10) as plain:
        try:
            asked.wrap_socket(plain, server_hostname=NAME).close()
        except ssl.SSLError:
            assert not is_taken
        else:
            assert is_taken


@pytest.mark.parametrize(("path", "most"), [("/sign-in/", 200), ("/nowhere/", 3000)])
def test_who_asks_without_a_pause_is_slowed_and_nobody_else(
    proxied: Proxied, path: str, most: int
) -> None:
    trust = ssl.create_default_context(cafile=str(proxied.folder / "certificate.pem"))
    plain = socket.create_connection(("127.0.0.1", proxied.secure), 30, ("127.0.0.8", 0))
    link = http.client.HTTPConnection(NAME)
    link.sock = trust.wrap_socket(plain, server_hostname=NAME)
    slowed = 0
    for number in range(most):
        link.request("GET", path, headers={"Host": NAME})
        answer = link.getresponse()
        answer.read()
        if answer.status == 429:
            slowed = number
            break
    link.close()
    assert slowed >= 60  # a hall's phones that come at once are no attack
    assert proxied.ask(path, "127.0.0.7").status != 429


def test_no_other_server_of_the_domain_can_set_a_cookie_of_this_one(proxied: Proxied) -> None:
    """RFC 6265bis, 4.1.3: a name with ``__Host-`` is taken from this host alone, with ``Secure``,
    for the path ``/`` and without a domain; one with ``__Secure-`` over https alone."""
    printed = f"https://{NAME}:{proxied.secure}/set-up/"
    line = next(line for line in proxied.site.said().splitlines() if line.startswith(printed))
    path, secret = "/set-up/" + line.removeprefix(printed), "b" * 32
    data = {
        "club": "Boathouse",
        "name": "Rosa",
        "username": "rosa",
        "password": "heron lamp 19 oar",
        "csrfmiddlewaretoken": secret,
    }
    answer = proxied.ask(
        path,
        "127.0.0.1",
        urlencode(data),
        Cookie=f"__Host-csrftoken={secret}",
        Content_Type="application/x-www-form-urlencoded",
        Origin=f"https://{NAME}:{proxied.secure}",
        Referer=printed,
    )
    assert answer.status == 302
    cookies = SimpleCookie()
    for said in answer.headers.get_all("Set-Cookie") or ():
        cookies.load(said)
    plain = {"sessionid", "csrftoken", "known_device", "messages"}
    assert {name.removeprefix("__Host-") for name in cookies} == plain
    for name, cookie in cookies.items():
        assert name.startswith("__Host-")
        assert (cookie["secure"], cookie["path"], cookie["domain"]) == (True, "/", "")
