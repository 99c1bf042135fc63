"""The data of the first release, brought forward by `start`, hold what they held.

``tests/data/first_release.sql.gz`` is the demo club as commit 57c8f46 built it, the last to change
the first migrations: whatever a database was before that, no update leads on from it. Dumped by
SQLite, cut to 60 reps, with a password, a player's link, an undo and some odd letters put in by
that version. What is expected is read from the dump itself.
"""

from __future__ import annotations

import gzip
import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from coachbook.benchmarks.courtside import Hall, free_port
from plays.core.document.file import read_play
from tests.coachbook.visitor import Visitor

DUMP = Path(__file__).parents[1] / "data" / "first_release.sql.gz"
# Its key: this club has never been anywhere but in tests.
KEY = "18Al9QlB8PCO4sPxuQo17m4WMtMgoIVxqYrTRZzZqewMewA4HRpRdbNtWV8rkMLSYl9Rw6RSLhMyE50ltYxgHA"
LINK = "/my/0kg-EsvrITGazcBxvmuEkQ.NZLe97_FmovZFotNukbZ4j-Fgmuwr5TDlJ5Vku6ndL4/"
LINKED = "Zoë O’Neill-Å"
PASSWORD = "heron lamp 19 oar"
# What a club would miss, by table: every column of then that there still is.
TABLES = {
    "shared_club": "name",
    "shared_user": "username, name, password, is_active",
    "shared_change": "at, verb, subject",
    "plays_play": "name, key",
    "roster_team": "name, season, age_group, rule_set",
    "roster_staff": "team_id, user_id, duty",
    "roster_player": "team_id, name, number, height_cm, positions, availability",
    "roster_unit": "team_id, name",
    "roster_unit_members": "unit_id, player_id",
    "roster_packageplay": "team_id, call, priority",
    "roster_casting": "entry_id, role, depth, player_id",
    "practice_practice": "team_id, date, start, place",
    "practice_block": 'practice_id, "order", kind, minutes, title, notes, mode, entry_id',
    "practice_attendance": "practice_id, player_id, presence",
    "practice_game": "team_id, date, start, opponent",
    "practice_rep": "id, practice_id, entry_id, mode, is_clean, erred, slip, at, logged_by_id",
    "practice_reprole": "rep_id, role, player_id",
    "practice_undo": "id, rep_id, at",
}


@dataclass(frozen=True)
class Forward:
    """A site that was brought forward, and what its tables held before."""

    place: Hall
    before: dict[str, list[Any]]
    documents: list[str]


def rows(file: Path) -> dict[str, list[Any]]:
    with closing(sqlite3.connect(file)) as database:
        return {
            table: sorted(database.execute(f"SELECT id, {columns} FROM {table}"), key=repr)
            for table, columns in TABLES.items()
        }


def documents(file: Path) -> list[str]:
    with closing(sqlite3.connect(file)) as database:
        found = database.execute("SELECT document FROM plays_revision ORDER BY id").fetchall()
    return [row[0] for row in found]


@pytest.fixture(scope="module")
def forward(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Forward]:
    data = tmp_path_factory.mktemp("first")
    file = data / "club.sqlite3"
    with closing(sqlite3.connect(file)) as database:
        database.executescript(gzip.decompress(DUMP.read_bytes()).decode())
    (data / "secret.key").write_text(KEY, "ascii")
    before, held = rows(file), documents(file)
    place = Hall(data, free_port(), log=data.with_suffix(".txt"))
    try:
        place.start()
        yield Forward(place, before, held)
    finally:
        place.kill()


def test_every_row_says_what_it_said(forward: Forward) -> None:
    after = rows(forward.place.data / "club.sqlite3")
    assert sum(map(len, forward.before.values())) > 700
    for table, held in forward.before.items():
        assert held, table
        assert after[table] == held, table


def test_every_play_is_still_read(forward: Forward) -> None:
    """Their documents are of then: whoever wrote a file with the first release can read it."""
    assert len(forward.documents) == 14
    after = documents(forward.place.data / "club.sqlite3")
    for old, new in zip(forward.documents, after, strict=True):
        assert json.loads(old)["name"] == json.loads(new)["name"]
        assert read_play(old) == read_play(new)


def test_the_staff_signs_in_with_the_old_password_and_reads(forward: Forward) -> None:
    visitor, url = Visitor(), forward.place.url
    facts = {"username": "hanne", "password": PASSWORD}
    assert visitor.post(f"{url}/sign-in/", facts)[0] == 302
    for path in ("", "roster/", "package/", "cast/", "sheets/", "practices/", "readiness/"):
        assert visitor.get(f"{url}/teams/1/{path}")[0] == 200, path
    assert LINKED in visitor.get(f"{url}/teams/1/roster/")[1]
    with closing(sqlite3.connect(forward.place.data / "club.sqlite3")) as database:
        ((practice, reps),) = database.execute(
            "SELECT practice_id, count(*) FROM practice_rep GROUP BY 1 ORDER BY 2 DESC LIMIT 1"
        ).fetchall()
    assert reps > 5
    assert visitor.get(f"{url}/court/{practice}/")[0] == 200
    assert "<svg" in visitor.get(f"{url}/library/gangway/")[1]


def test_a_link_of_then_still_opens(forward: Forward) -> None:
    status, page, _ = Visitor().get(forward.place.url + LINK)
    assert status == 200
    assert "<form" in page  # asks, as a chat that previews it must not use it up


def test_readiness_is_made_of_the_reps_of_then(forward: Forward) -> None:
    with closing(sqlite3.connect(forward.place.data / "club.sqlite3")) as database:
        (summed,) = database.execute("SELECT sum(count) FROM practice_repsum").fetchone()
        (undone,) = database.execute(
            "SELECT count(*) FROM practice_rep WHERE id IN (SELECT rep_id FROM practice_undo)"
        ).fetchone()
        (roles,) = database.execute("SELECT count(*) FROM practice_reprole").fetchone()
    assert undone == 1
    assert summed == roles - 5 * undone
