"""Workers that run beside a real server, found and killed as the system does it."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from coachbook.benchmarks.courtside import Hall, hall
from tests.template import laid


@contextmanager
def prepared(folder: Path, script: str, fact: str = "") -> Iterator[Hall]:
    """A hall whose server runs after a script; what the script prints is kept as a fact."""
    made = hall(laid(folder))
    said = made.run(script)
    if fact:
        made.facts[fact] = int(said)
    made.start()
    try:
        yield made
    finally:
        made.kill()


def worker_of(place: Hall, table: str) -> int:
    """The process that works on a table for this hall, by its command and its environment; or 0.

    A hall may have workers of other tables, and the machine other halls.
    """
    mine = f"COACHBOOK_DATA={place.data}".encode()
    for process in Path("/proc").glob("[0-9]*"):
        try:
            command = (process / "cmdline").read_bytes().split(b"\0")
            surroundings = (process / "environ").read_bytes().split(b"\0")
            if table.encode() in command and mine in surroundings:
                return int(process.name)
        except OSError:  # of another user, or gone
            continue
    return 0


def kill_worker(place: Hall, table: str) -> None:
    """SIGKILL, as the system does when memory runs out."""
    worker = worker_of(place, table)
    assert worker, "no worker to kill: 0 would be this very group"
    os.kill(worker, signal.SIGKILL)
