"""A real site behind a real nginx, with the very file that the help pages hand out."""

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

from coachbook.benchmarks.courtside import free_port
from coachbook.help.pages import DOCS
from tests.coachbook.served import PATIENCE, Served, served
from tests.machine import program
from tests.template import laid

NGINX = program("nginx")
OPENSSL = program("openssl")
NAME = "plays.example.org"
Answer = http.client.HTTPResponse

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


@contextmanager
def proxied_site(folder: Path) -> Iterator[Proxied]:
    """A site with its data in ``folder / "data"``, and nginx before it."""
    folder.chmod(0o755)  # nginx gives up root, and then reads here
    secure, plain = free_port(), free_port()
    certificate(folder)
    settings = {
        "COACHBOOK_HOSTS": NAME,
        "COACHBOOK_ORIGINS": f"https://{NAME}:{secure}",
        "COACHBOOK_HTTPS": "yes",
        "COACHBOOK_PROXY": "127.0.0.1",
    }
    with served(laid(folder / "data"), **settings) as site:
        text = handed_out(folder, site.port, secure, plain)
        (folder / "coachbook.conf").write_text(text, "utf-8")
        with nginx(folder, secure):
            yield Proxied(site, secure, plain, folder)
