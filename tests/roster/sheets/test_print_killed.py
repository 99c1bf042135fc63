"""The print worker killed beside a real server: begun again or told, and never half a file."""

from __future__ import annotations

import http.client
import io
import os
import signal
import sqlite3
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest
from pypdf import PdfReader

from coachbook.benchmarks.courtside import COOKIE, TOKEN, Hall
from coachbook.data_folder import DATABASE_FILE
from tests.workers import prepared, worker_of

TABLE = "roster.Printing"
PLAYERS = 8  # of the hall
PREPARE = """
from coachbook.demo import factories
from coachbook.demo.files import demo_plays
from roster.models import Team
team = Team.objects.get()
players = list(team.players.all())
for number, value in enumerate(list(demo_plays())[1:]):
    entry = factories.PackagePlayFactory.create(
        team=team, play=factories.published(value), call=value.name
    )
    for role in range(5):
        who = players[(role + number) % len(players)]
        factories.CastingFactory.create(entry=entry, role=str(role + 1), player=who)
print(team.pk)
"""
LOOK = "SELECT state, starts, share FROM roster_printing ORDER BY id DESC LIMIT 1"
FALL_SILENT = """
from django.utils import timezone
from roster.models import Printing
from shared.worker import SILENT
print(Printing.objects.filter(state="running").update(beat_at=timezone.now() - SILENT - SILENT))
"""
HALF_A_FILE = """
import os, signal
from pathlib import Path
from roster.models import Team
from roster.sheets.papers import Order
def die(self, target):
    os.truncate(self, os.path.getsize(self) // 2)
    os.kill(os.getpid(), signal.SIGKILL)
Path.replace = die
Order("each", "a4", False).file(Team.objects.get())
"""
Row = tuple[str, int, float]
PATIENCE = 90.0  # seconds; the drawing takes about two by itself

pytestmark = [
    pytest.mark.alone,  # killed in time, as there is nothing beside it
    pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="finds the worker by /proc"),
]


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Hall]:
    with prepared(tmp_path_factory.mktemp("hall"), PREPARE) as made:
        yield made


def ask(place: Hall, path: str, body: str | None = None) -> tuple[http.client.HTTPResponse, bytes]:
    link = http.client.HTTPConnection("127.0.0.1", place.port, timeout=30)
    session = place.facts["sessions"][0]
    headers = {"Cookie": f"{COOKIE}={session}; csrftoken={TOKEN}", "X-CSRFToken": TOKEN}
    if body is not None:
        headers["Content-Type"] = "application/x-www-form-urlencoded"
    link.request("GET" if body is None else "POST", path, body, headers)
    answer = link.getresponse()
    data = answer.read()
    link.close()
    return answer, data


def file_path(place: Hall, paper: str) -> str:
    return f"/teams/{place.facts['team']}/print/booklets.pdf?paper={paper}&plays=all"


def press(place: Hall, paper: str) -> None:
    path = f"/teams/{place.facts['team']}/print/booklets/"
    answer, _ = ask(place, path, f"kind=booklets&paper={paper}&plays=all")
    assert answer.status == 302


def page(place: Hall) -> str:
    return ask(place, f"/teams/{place.facts['team']}/print/")[1].decode()


def row(place: Hall) -> Row:
    """State, starts and share of the last printing, read beside the server and its worker."""
    with closing(sqlite3.connect(place.data / DATABASE_FILE, timeout=20)) as file:
        found: Row = file.execute(LOOK).fetchone()
    return found


def wait(place: Hall, until: Callable[[Row], bool]) -> None:
    """Until the row says so. Fails when it never does."""
    end = time.monotonic() + PATIENCE
    while not until(found := row(place)):
        assert time.monotonic() < end, found
        time.sleep(0.1)


def kill_at_work(place: Hall, start: int) -> None:
    """Kill the worker of this start once it tells how far it is; then let it be noticed.

    It is held while its row is read, and longer than it runs, so that a beat comes in time. Of a
    second start it is enough that it has begun: with what the first has drawn it is done before
    a beat can tell how far it is.
    """
    wait(place, lambda _found: worker_of(place, TABLE) != 0)
    worker = worker_of(place, TABLE)
    try:
        while (found := row(place))[1] < start or found[2] == 0:
            os.kill(worker, signal.SIGCONT)
            time.sleep(0.01)
            os.kill(worker, signal.SIGSTOP)
            time.sleep(0.02)
    finally:
        os.kill(worker, signal.SIGKILL)  # nobody else would end one that is held
    state, starts, share = row(place)
    assert (state, starts) == ("running", start), "killed too late"
    assert 0 < share < 1
    place.run(FALL_SILENT)


def assert_nothing_to_open(place: Hall, paper: str) -> None:
    answer, data = ask(place, file_path(place, paper))
    assert answer.status == 302
    assert b"%PDF" not in data


def test_killed_while_it_draws_it_is_begun_again(place: Hall) -> None:
    press(place, "a4")
    kill_at_work(place, 1)
    assert_nothing_to_open(place, "a4")
    assert "<progress" in page(place)  # this look begins it again
    wait(place, lambda found: found[:2] == ("done", 2))
    answer, data = ask(place, file_path(place, "a4"))
    assert answer.headers["Content-Type"] == "application/pdf"
    read = PdfReader(io.BytesIO(data), strict=True)
    assert sum(not isinstance(mark, list) for mark in read.outline) == PLAYERS
    assert data.rstrip().endswith(b"%%EOF")
    assert "Open the file" in page(place)


def test_killed_twice_it_is_told_and_can_be_pressed_again(place: Hall) -> None:
    press(place, "letter")
    kill_at_work(place, 1)
    assert "<progress" in page(place)
    kill_at_work(place, 2)
    assert "The work in the background broke off twice" in page(place)
    assert_nothing_to_open(place, "letter")
    press(place, "letter")
    assert "<progress" in page(place)
    wait(place, lambda found: found[0] == "done")
    assert ask(place, file_path(place, "letter"))[1].startswith(b"%PDF")


def test_a_file_that_was_half_written_is_handed_to_nobody(place: Hall) -> None:
    with pytest.raises(subprocess.CalledProcessError) as killed:
        place.run(HALF_A_FILE)
    assert killed.value.returncode == -9
    answer, data = ask(place, f"/teams/{place.facts['team']}/sheets/each.zip?paper=a4")
    assert answer.status == 302
    assert not data.startswith(b"PK")
