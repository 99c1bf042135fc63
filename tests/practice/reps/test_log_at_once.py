"""Four phones against one SQLite file, through a real server process: nothing lost or doubled."""

from __future__ import annotations

import sqlite3
from pathlib import Path

from coachbook.benchmarks.courtside import PHONES, hall, phones_at_once
from tests.template import laid

WRITES = 15


def test_four_phones_at_once_lose_and_double_nothing(tmp_path: Path) -> None:
    place = hall(laid(tmp_path))
    place.start()
    try:
        took, wrong = phones_at_once(place, WRITES)
    finally:
        place.kill()
    assert wrong == []
    assert len(took) > PHONES * WRITES  # some were sent twice
    with sqlite3.connect(tmp_path / "club.sqlite3") as database:
        reps = database.execute("select count(*), count(distinct id) from practice_rep").fetchone()
        roles = database.execute("select count(*) from practice_reprole").fetchone()
        people = database.execute(
            "select count(*) from practice_rep group by logged_by_id"
        ).fetchall()
    database.close()
    assert reps == (PHONES * WRITES, PHONES * WRITES)
    assert roles == (5 * PHONES * WRITES,)
    assert people == [(WRITES,)] * PHONES
