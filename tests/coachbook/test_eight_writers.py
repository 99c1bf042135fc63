"""Eight phones that log never stall those who read, on either database, with real processes.

SQLite takes one write at a time, and lets everybody read meanwhile (its documentation of the
write-ahead log: "readers do not block writers and a writer does not block readers"); PostgreSQL
promises the same of every lock but the one that changes a table's form (13.1, Introduction to
MVCC). Both are quoted from memory. What is tried is that the site around them keeps the promise.
"""

from __future__ import annotations

import sqlite3
import statistics
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from pathlib import Path

import psycopg
import pytest

from coachbook.benchmarks.courtside import PHONES, Hall, hall
from tests.coachbook.faulty import Phones, ask
from tests.coachbook.visitor import Visitor
from tests.machine import needs
from tests.postgresql import cluster

WRITERS = 8
ADDRESS = "COACHBOOK_DATABASE"
LINK = """
from django.utils import timezone
from roster.models import Player
from roster.squad.links import link_for, path_of_player
print(path_of_player(link_for(Player.objects.order_by("pk")[0], timezone.now())))
"""
pytestmark = [
    pytest.mark.alone,
    pytest.mark.parametrize(
        "database", ["sqlite", pytest.param("postgresql", marks=needs("postgresql"))]
    ),
]
Read = Callable[[], int]


@pytest.fixture
def place(database: str, tmp_path: Path) -> Iterator[Hall]:
    """A site that runs, with one team, its practice, a play and five players."""
    with cluster() if database == "postgresql" else nullcontext() as server:
        settings = {ADDRESS: server.address} if server else {}
        made = hall(tmp_path / "data", log=tmp_path / "said.txt", settings=settings)
        made.start()
        try:
            yield made
        finally:
            made.kill()


def readers(place: Hall) -> dict[str, Read]:
    """The status of each page that is read at the court: a player's on their phone, the staff's."""
    own, path = Visitor(), place.run(LINK)
    door = own.get(place.url + path)[1]
    assert own.post(f"{place.url}{path}open/", {}, door)[0] == 302
    team, entry = place.facts["team"], place.facts["entry"]
    found: dict[str, Read] = {
        address: lambda address=address: own.get(place.url + address)[0]  # type: ignore[misc]
        for address in (path, f"{path}{entry}/1/", f"{path}{entry}/1/moving/")
    }
    for address in (f"/court/{place.facts['practice']}/", f"/teams/{team}/", "/library/"):
        found[address] = lambda address=address: ask(place, address, number=1).status  # type: ignore[misc]
    for address in (f"/teams/{team}/readiness/", f"/teams/{team}/ratings/"):
        found[address] = lambda address=address: ask(place, address, number=2).status  # type: ignore[misc]
    return found


@contextmanager
def nobody_else_writes(place: Hall) -> Iterator[None]:
    """Somebody has begun to write and holds on: no rep can be kept until the block ends."""
    if address := place.settings.get(ADDRESS):
        other = psycopg.connect(address)
        other.execute("LOCK TABLE practice_rep IN EXCLUSIVE MODE")
    else:
        file = sqlite3.connect(place.data / "club.sqlite3", isolation_level=None)
        file.execute("BEGIN IMMEDIATE")
    try:
        yield
    finally:
        if address:
            other.rollback()
            other.close()
        else:
            file.execute("ROLLBACK")
            file.close()


def test_eight_writers_who_wait_keep_no_page_from_anybody(place: Hall) -> None:
    """Every page is answered while eight reps wait for a write that is held open, first visits
    of a phone among them; let go, all eight are kept."""
    pages = readers(place)
    phones = Phones(place)
    writers = [
        threading.Thread(target=phones.send, args=(number % PHONES,)) for number in range(WRITERS)
    ]
    with nobody_else_writes(place):
        for writer in writers:
            writer.start()
        time.sleep(1)  # they have arrived
        got = {address: read() for address, read in pages.items()}
        waiting = [writer.is_alive() for writer in writers]
    for writer in writers:
        writer.join()
    expected = dict.fromkeys(pages, 200) | {f"/teams/{place.facts['team']}/ratings/": 403}
    assert got == expected
    assert waiting == [True] * WRITERS
    assert phones.failed == []
    assert len(set(phones.acknowledged)) == WRITERS


READS = 80
FACTOR = 3.0


def beside(place: Hall, other: Callable[[int], object], pages: list[Read]) -> float:
    """The 95th percentile of a read in seconds, while eight others ask without a pause."""
    ended = threading.Event()

    def one(number: int) -> None:
        while not ended.is_set():
            other(number % PHONES)

    threads = [threading.Thread(target=one, args=(number,)) for number in range(WRITERS)]
    for thread in threads:
        thread.start()
    took = []
    try:
        for number in range(READS):
            begun = time.monotonic()
            assert pages[number % len(pages)]() == 200
            took.append(time.monotonic() - begun)
    finally:
        ended.set()
        for thread in threads:
            thread.join()
    return statistics.quantiles(took, n=20)[-1]


def test_eight_writers_never_stall_reads(place: Hall) -> None:
    """Who reads waits no longer beside eight who write than beside eight who only read: the
    machine is as busy, and nobody holds a lock. No rep is lost on the way."""
    own = [read for path, read in readers(place).items() if path.startswith("/my/")]
    log = f"/court/{place.facts['practice']}/"
    pages = [*own, lambda: ask(place, log, number=3).status]
    phones = Phones(place)
    beside(place, lambda number: ask(place, log, number=number), pages)  # all is loaded
    reading = beside(place, lambda number: ask(place, log, number=number), pages)
    writing = beside(place, phones.send, pages)
    assert phones.failed == []
    assert len(set(phones.acknowledged)) >= READS
    kept = place.run("from practice.models import Rep; print(Rep.objects.count())")
    assert int(kept) == len(phones.acknowledged)
    assert writing < FACTOR * reading, (writing, reading)
