"""A real `start` in a process of its own, on a loopback port, with a scratch folder."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from coachbook.benchmarks.courtside import free_port

ROOT = Path(__file__).resolve().parents[2]
PATIENCE = 60.0  # seconds; a busy machine migrates slowly


@dataclass
class Served:
    """A site that runs: its address, its folder, and what it has said so far."""

    process: subprocess.Popen[bytes]
    port: int
    data: Path
    log: Path = field(default_factory=Path)

    def said(self) -> str:
        return self.log.read_text("utf-8")

    def stop(self) -> int:
        """Tell it to end as a service manager does; the exit status."""
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(PATIENCE)


@contextmanager
def served(data: Path, *arguments: str, **settings: str) -> Iterator[Served]:
    port = free_port()
    log = data.with_name("said.txt")
    given = {"COACHBOOK_DATA": str(data), "PYTHONUNBUFFERED": "1", **settings}
    clean = {k: v for k, v in os.environ.items() if not k.startswith(("COACHBOOK", "DJANGO"))}
    command = [sys.executable, "manage.py", "start", "--port", str(port), *arguments]
    with log.open("wb") as said:
        process = subprocess.Popen(
            command, cwd=ROOT, env={**clean, **given}, stdout=said, stderr=said
        )
    site = Served(process, port, data, log)
    try:
        await_port(site)
        yield site
    finally:
        process.kill()
        process.wait(PATIENCE)


def await_port(site: Served) -> None:
    """Wait until the site listens. Fails with what it said when it ended instead."""
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        assert site.process.poll() is None, site.said()
        try:
            socket.create_connection(("127.0.0.1", site.port), 1).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise AssertionError(site.said())


def fetched(address: str) -> tuple[int, str]:
    with urllib.request.urlopen(address, timeout=30) as answer:
        return answer.status, answer.read().decode()
