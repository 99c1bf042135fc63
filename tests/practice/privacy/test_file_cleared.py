"""A player erased through a real server: no byte of the data folder tells who it was."""

from __future__ import annotations

import http.client
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from coachbook.benchmarks.courtside import COOKIE, TOKEN, Hall
from coachbook.data_folder import DATABASE_FILE
from tests.workers import prepared

NAME = "Quetzalina"  # that no other text of the club holds by chance
PREPARE = f"""
from roster.models import Player, Staff
Staff.objects.update(duty="head")
player = Player.objects.all()[0]
player.name = "{NAME}"
player.save()
print(player.pk)
"""
PATIENCE = 60.0  # seconds


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Hall]:
    with prepared(tmp_path, PREPARE, "player") as made:
        yield made


def telling(place: Hall) -> list[str]:
    """The files in which the name stands; backups are made to hold what was."""
    files = [path for path in place.data.rglob("*") if path.is_file()]
    return [
        path.name
        for path in files
        if "backups" not in path.parts and NAME.encode() in path.read_bytes()
    ]


def state(place: Hall) -> str:
    with closing(sqlite3.connect(place.data / DATABASE_FILE, timeout=20)) as file:
        rows = file.execute("SELECT state FROM practice_clearing").fetchall()
    return rows[0][0] if rows else ""


def test_what_is_erased_leaves_the_file_and_its_log(place: Hall) -> None:
    assert telling(place)
    link = http.client.HTTPConnection("127.0.0.1", place.port, timeout=30)
    session = place.facts["sessions"][0]
    headers = {
        "Cookie": f"{COOKIE}={session}; csrftoken={TOKEN}",
        "X-CSRFToken": TOKEN,
        "Content-Type": "application/x-www-form-urlencoded",
    }
    link.request("POST", f"/players/{place.facts['player']}/data/", "typed=on", headers)
    answer = link.getresponse()
    answer.read()
    assert answer.status == 302
    link.close()
    until = time.monotonic() + PATIENCE
    while state(place) != "done":
        assert time.monotonic() < until, state(place)
        time.sleep(0.2)
    assert not telling(place)
