"""A real site behind a real nginx with the very file that the help pages hand out."""

from __future__ import annotations

import http.client
import socket
import ssl
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlencode

import pytest

from coachbook.help.pages import DOCS
from tests.coachbook.served import PATIENCE, Served, free_port, served
from tests.machine import needs, program

NGINX = program("nginx")
OPENSSL = program("openssl")
NAME = "plays.example.org"
TOKEN = "abcdefghijklmnopqrstuv.abcdefghijklmnopqrstuvwxyz0123456789abcdefg"
Answer = http.client.HTTPResponse

pytestmark = needs("nginx", "openssl")

MAIN = """
daemon off; pid {folder}/pid; error_log {folder}/main.log; worker_processes 1;
events {{ worker_connections 512; }}
http {{
  client_body_temp_path {folder}/body; proxy_temp_path {folder}/proxy;
  fastcgi_temp_path {folder}/f; uwsgi_temp_path {folder}/u; scgi_temp_path {folder}/s;
  include {folder}/coachbook.conf;
}}
"""


@dataclass(frozen=True)
class Proxied:
    """A site, and the ports on which the proxy speaks https and http."""

    site: Served
    secure: int
    plain: int
    folder: Path

    def ask(
        self, path: str, source: str = "127.0.0.1", body: str | None = None, **headers: str
    ) -> Answer:
        """One request over https from a loopback address."""
        trust = ssl.create_default_context(cafile=str(self.folder / "certificate.pem"))
        plain = socket.create_connection(("127.0.0.1", self.secure), 30, (source, 0))
        connection = http.client.HTTPConnection(NAME)
        connection.sock = trust.wrap_socket(plain, server_hostname=NAME)
        named = {k.replace("_", "-"): v for k, v in headers.items()}
        connection.request(
            "GET" if body is None else "POST",
            path,
            body,
            {"Host": f"{NAME}:{self.secure}", **named},
        )
        answer = connection.getresponse()
        answer.text = answer.read().decode("utf-8", "replace")  # type: ignore[attr-defined]
        connection.close()
        return answer

    def logged(self) -> str:
        return "".join(path.read_text("utf-8") for path in self.folder.glob("*.log"))


def handed_out(folder: Path, site: int, secure: int, plain: int) -> str:
    """The file of the help pages with this test's ports and paths put in, and nothing else."""
    text = (DOCS / "nginx.conf").read_text("utf-8")
    here = {
        "listen 443 ssl;": f"listen 127.0.0.1:{secure} ssl;",
        "listen 80;": f"listen 127.0.0.1:{plain};",
        "    listen [::]:443 ssl;\n": "",
        "    listen [::]:80;\n": "",
        "127.0.0.1:8000": f"127.0.0.1:{site}",
        "/etc/ssl/coachbook": str(folder),
        "/var/log/nginx": str(folder),
    }
    for old, new in here.items():
        assert old in text
        text = text.replace(old, new)
    return text


def certificate(folder: Path) -> None:
    key, made = folder / "key.pem", folder / "certificate.pem"
    command = [str(OPENSSL), "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2"]
    command += ["-keyout", str(key), "-out", str(made), "-subj", f"/CN={NAME}"]
    command += ["-addext", f"subjectAltName=DNS:{NAME}"]
    subprocess.run(command, check=True, capture_output=True)


@contextmanager
def nginx(folder: Path, port: int) -> Iterator[None]:
    (folder / "main.conf").write_text(MAIN.format(folder=folder), "utf-8")
    command = [str(NGINX), "-p", str(folder), "-c", str(folder / "main.conf")]
    process = subprocess.Popen(command, stderr=subprocess.DEVNULL)
    try:
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until:
            assert process.poll() is None, (folder / "main.log").read_text("utf-8")
            try:
                socket.create_connection(("127.0.0.1", port), 1).close()
                break
            except OSError:
                time.sleep(0.05)
        yield
    finally:
        process.terminate()
        process.wait(PATIENCE)


@pytest.fixture(scope="module")
def proxied(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Proxied]:
    folder = tmp_path_factory.mktemp("proxy")
    folder.chmod(0o755)  # nginx gives up root, and then reads here
    secure, plain = free_port(), free_port()
    certificate(folder)
    settings = {
        "COACHBOOK_HOSTS": NAME,
        "COACHBOOK_ORIGINS": f"https://{NAME}:{secure}",
        "COACHBOOK_HTTPS": "yes",
        "COACHBOOK_PROXY": "127.0.0.1",
    }
    with served(folder / "data", **settings) as site:
        text = handed_out(folder, site.port, secure, plain)
        (folder / "coachbook.conf").write_text(text, "utf-8")
        with nginx(folder, secure):
            yield Proxied(site, secure, plain, folder)


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
