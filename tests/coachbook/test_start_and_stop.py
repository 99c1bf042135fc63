"""A real site starts, stops when it is told to, and refuses a database from the future."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from tests.coachbook.served import ROOT, fetched, served
from tests.template import laid


def test_told_to_end_it_leaves_one_whole_file(tmp_path: Path) -> None:
    data = tmp_path / "data"
    with served(data) as site:
        assert fetched(f"http://127.0.0.1:{site.port}/health/") == (200, "ok")
        assert site.stop() == 0, site.said()
    left = {path.name for path in data.iterdir()}
    assert left == {"club.sqlite3", "secret.key", "static"}
    with sqlite3.connect(f"file:{data / 'club.sqlite3'}?mode=ro", uri=True) as connection:
        assert connection.execute("SELECT count(*) FROM shared_club").fetchone() == (0,)
    connection.close()


def test_the_door_is_the_site_itself(tmp_path: Path) -> None:
    """A signal to `python3 manage.py start` reaches the site, with no process in between."""
    code = (
        "import os, sys; from coachbook import bootstrap;"
        "bootstrap.is_ready = lambda lock: True;"
        "bootstrap._inside = lambda: False;"
        "print(os.getpid(), flush=True);"
        "bootstrap._again(['-c', 'import os; print(os.getpid())'])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, check=True, capture_output=True, text=True
    )
    first, second = done.stdout.split()
    assert (first == second) is (os.name == "posix")


def test_a_database_from_a_newer_version_is_refused(tmp_path: Path) -> None:
    data = laid(tmp_path / "data")
    with served(data) as site:
        site.stop()
    with sqlite3.connect(data / "club.sqlite3") as connection:
        connection.execute(
            "INSERT INTO django_migrations (app, name, applied)"
            " VALUES ('roster', '0999_from_tomorrow', '2031-01-01')"
        )
    connection.close()
    with (
        pytest.raises(AssertionError, match=r"newer version: it knows roster\.0999_from_tomorrow"),
        served(data),
    ):
        pass
