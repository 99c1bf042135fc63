"""A backup holds everything, says when it is damaged, and goes back into an empty site only.

Read by the zip program of Python's own library (PKWARE APPNOTE) and SHA-256 of FIPS 180-4
through hashlib: whoever has the file needs nothing of ours.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import sqlite3
import subprocess
import sys
import time
import zipfile
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import psycopg
import pytest

from coachbook.backup import keeping
from coachbook.backup.archive import MANIFEST, BackupError, checked, read_manifest
from coachbook.backup.daily import is_due
from coachbook.backup.keeping import backups_in
from coachbook.backup.rows import summed
from tests.coachbook.served import served
from tests.template import laid

ROOT = Path(__file__).resolve().parents[2]
# Every moment to the microsecond, a name with an accent, a number that is minus zero.
FILL = """
import django; django.setup()
from django.core.management import call_command
call_command("migrate", verbosity=0)
from tests.cast import make_cast
from plays.models import TracedPhoto
from practice.models import HeldRep, Rep
from coachbook.demo import factories
cast = make_cast()
five = {str(role): who for role, who in enumerate(cast.players[:5], start=1)}
for n in range(40):
    factories.RepFactory.create(practice=cast.practice, entry=cast.entry, cast=five)
seen = {"corners": [[0.1, 0.25]], "laid": bytes([255, 0])}
TracedPhoto.objects.create(play=cast.play, photo=bytes(range(256)), **seen)
HeldRep.objects.create(team=cast.team, tap={"zebra": -0.0, "a": [1.5, "Zoë"], "n": 1e-7})
# The play of the cast is checked by a process of its own, which would write on while we count.
import time
from plays.models import Checking
until = time.monotonic() + 120
while Checking.objects.filter(state="running").exists():
    assert time.monotonic() < until, "the check does not end"
    time.sleep(0.1)
"""


def command(
    data: Path, *words: str, code: str = "", database: str = ""
) -> subprocess.CompletedProcess[str]:
    """Run manage.py, or some code, with a data folder of its own."""
    clean = {k: v for k, v in os.environ.items() if not k.startswith(("COACHBOOK", "DJANGO"))}
    given = {"COACHBOOK_DATA": str(data), "DJANGO_SETTINGS_MODULE": "coachbook.settings"}
    if database:
        given["COACHBOOK_DATABASE"] = database
    line = [sys.executable, "-c", code] if code else [sys.executable, "manage.py", *words]
    return subprocess.run(
        line, cwd=ROOT, env={**clean, **given}, capture_output=True, text=True, check=False
    )


def done(run: subprocess.CompletedProcess[str]) -> str:
    assert run.returncode == 0, run.stderr
    return run.stdout


@pytest.fixture(scope="module")
def club(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The data folder of a small club."""
    data = laid(tmp_path_factory.mktemp("club"))
    done(command(data, code=FILL))
    return data


@pytest.fixture(scope="module")
def backup(club: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("backups") / "new"
    done(command(club, "backup", "--to", str(folder)))
    return next(iter(backups_in(folder)))


@pytest.fixture
def other_database(tmp_path: Path) -> Iterator[str]:
    """An empty database where the suite runs on PostgreSQL, else another SQLite file."""
    address = os.environ.get("COACHBOOK_DATABASE", "")
    if not address:
        yield ""
        return
    name = f"backup_{os.getpid()}"
    with psycopg.connect(address, autocommit=True) as server:
        server.execute(f"CREATE DATABASE {name}")
        try:
            yield urlsplit(address)._replace(path=f"/{name}").geturl()
        finally:
            server.execute(f"DROP DATABASE {name} WITH (FORCE)")


def rewritten(source: Path, target: Path, change: dict[str, bytes]) -> Path:
    """The same archive, whole as a ZIP file, with other bytes in some members."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w") as new:
        for name in old.namelist():
            new.writestr(name, change.get(name, old.read(name)))
    return target


def manifest_of(path: Path) -> dict[str, Any]:
    with zipfile.ZipFile(path) as archive:
        found: dict[str, Any] = json.loads(archive.read(MANIFEST))
    return found


def test_every_row_of_every_table_is_in_it(club: Path, backup: Path) -> None:
    tables = manifest_of(backup)["tables"]
    with closing(sqlite3.connect(club / "club.sqlite3")) as connection:
        names = [
            str(name)
            for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type='table'")
            if re.match(r"(shared|plays|roster|practice)_", str(name))
        ]
        counted = {
            name: connection.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0]
            for name in names
        }
    # Members of a unit stand in the unit's line; forms that were sent and open sessions are of
    # one evening.
    many = {"roster_unit_members", "shared_user_groups", "shared_user_user_permissions"}
    for name in many | {"shared_sentform", "shared_opensession"}:
        counted.pop(name)
    assert {name.replace(".", "_"): table["rows"] for name, table in tables.items()} == counted
    assert counted["practice_rep"] == 40


def test_who_has_the_file_needs_nothing_of_ours(backup: Path) -> None:
    with zipfile.ZipFile(backup) as archive:
        assert archive.testzip() is None
        lines = archive.read("rows/roster.player.jsonl").decode().splitlines()
    rows = [json.loads(line) for line in lines]
    assert [row["fields"]["name"] for row in rows][:5] == ["Ida", "Noor", "Ada", "Mila", "Zoë"]
    said = "".join(json.dumps(row, sort_keys=True) for row in rows)
    table = manifest_of(backup)["tables"]["roster.player"]
    assert hashlib.sha256(said.encode()).hexdigest() == table["sha256"]


def test_it_is_read_by_its_owner_only(backup: Path) -> None:
    if os.name == "posix":
        assert backup.stat().st_mode & 0o077 == 0


@pytest.mark.django_db
def test_to_another_database_and_back_every_row_is_the_same(
    club: Path, backup: Path, tmp_path: Path, other_database: str
) -> None:
    away, home = tmp_path / "away", laid(tmp_path / "home")
    assert "each compared" in done(command(away, "restore", str(backup), database=other_database))
    done(command(away, "backup", "--to", str(tmp_path / "b"), database=other_database))
    second = next(iter(backups_in(tmp_path / "b")))
    assert manifest_of(second)["tables"] == manifest_of(backup)["tables"]
    done(command(home, "restore", str(second)))
    assert (home / "secret.key").read_text("ascii") == (club / "secret.key").read_text("ascii")
    done(command(away, "shell", "-c", NEW_PLAYER, database=other_database))
    again = command(home, "restore", str(second))
    assert again.returncode
    assert "There is a club already" in again.stderr


def test_a_trial_leaves_the_club_alone(club: Path, backup: Path) -> None:
    before = hashlib.sha256((club / "club.sqlite3").read_bytes()).hexdigest()
    assert "is whole" in done(command(club, "verify", str(backup)))
    assert hashlib.sha256((club / "club.sqlite3").read_bytes()).hexdigest() == before
    assert not [path for path in club.iterdir() if path.name.startswith("backups-")]


def test_people_go_on_writing_meanwhile(club: Path, tmp_path: Path) -> None:
    """The backup is one moment: as many changes as were there when it began, or a few more."""
    writing = subprocess.Popen(
        [sys.executable, "-c", WRITE, str(club / "club.sqlite3")],
        stdout=subprocess.PIPE,
        text=True,
    )
    assert writing.stdout is not None
    writing.stdout.readline()
    done(command(club, "backup", "--to", str(tmp_path)))
    writing.kill()
    writing.communicate()
    checked(next(iter(backups_in(tmp_path))))


# After a restore the next row gets a key of its own: sequences go on where they were.
NEW_PLAYER = """
from roster.models import Player, Team
Player.objects.create(team=Team.objects.first(), name='New', number='99')
"""
WRITE = """
import sqlite3, sys, time
connection = sqlite3.connect(sys.argv[1], timeout=20, isolation_level=None)
for n in range(100_000):
    connection.execute("UPDATE roster_player SET expected_minutes = ?", (n % 40,))
    if n == 0: print("begun", flush=True)
    time.sleep(0.002)
"""


@pytest.mark.parametrize("share", [0.0, 0.3, 0.999])
def test_a_truncated_file_is_no_backup(backup: Path, tmp_path: Path, share: float) -> None:
    cut = tmp_path / "cut.zip"
    data = backup.read_bytes()
    cut.write_bytes(data[: int(len(data) * share)])
    with pytest.raises(BackupError, match="no whole backup"):
        checked(cut)


def test_a_row_that_was_lost_or_changed_is_noticed(backup: Path, tmp_path: Path) -> None:
    member = "rows/roster.player.jsonl"
    with zipfile.ZipFile(backup) as archive:
        lines = archive.read(member)
    less = rewritten(backup, tmp_path / "less.zip", {member: lines.split(b"\n", 1)[1]})
    other = rewritten(backup, tmp_path / "other.zip", {member: lines.replace(b"Ida", b"Ada")})
    for path in (less, other):
        with pytest.raises(BackupError, match=r"damaged: roster\.player"):
            checked(path)


def test_what_does_not_fit_goes_back_as_a_whole(backup: Path, tmp_path: Path) -> None:
    """Rows that name somebody who is not there: refused, and the site is empty as before."""
    member = "rows/roster.player.jsonl"
    said = manifest_of(backup)
    table = summed([])
    said["tables"]["roster.player"] = {"rows": table.rows, "sha256": table.sha256}
    broken = rewritten(
        backup, tmp_path / "b.zip", {member: b"", MANIFEST: json.dumps(said).encode()}
    )
    run = command(laid(tmp_path / "new"), "restore", str(broken))
    assert run.returncode
    assert "Nothing was kept" in run.stderr
    with closing(sqlite3.connect(tmp_path / "new" / "club.sqlite3")) as connection:
        assert connection.execute("SELECT count(*) FROM shared_user").fetchone() == (0,)


@pytest.mark.parametrize(
    ("change", "why"),
    [
        ({"format": 9}, "format 9"),
        ({"tables": {"roster.ghost": {"rows": 0, "sha256": ""}}}, r"roster\.ghost"),
        ({"tables": 5}, "no whole backup"),
        ({"tables": {"roster.player": {"rows": 0}}}, "no whole backup"),
    ],
)
def test_a_table_of_contents_that_makes_no_sense(
    backup: Path, tmp_path: Path, change: dict[str, Any], why: str
) -> None:
    said = json.dumps({**manifest_of(backup), **change})
    with pytest.raises(BackupError, match=why):
        read_manifest(rewritten(backup, tmp_path / "b.zip", {MANIFEST: said.encode()}))


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("more", "fewer", "why"),
    [(["roster.0999_from_tomorrow"], 0, "newer version"), ([], 1, "older version")],
)
def test_another_version_is_told_by_name(
    backup: Path, more: list[str], fewer: int, why: str
) -> None:
    manifest = read_manifest(backup)
    theirs = (*manifest.migrations[fewer:], *more)
    keeping._check_version(backup, manifest)
    with pytest.raises(BackupError, match=why):
        keeping._check_version(backup, replace(manifest, migrations=theirs))


def test_only_our_own_old_ones_are_let_go(club: Path, tmp_path: Path) -> None:
    names = [f"coachbook-2026-01-0{n}-120000.zip" for n in range(1, 5)]
    for name in (*names, "holiday.zip", "coachbook-notes.zip"):
        (tmp_path / name).write_text("x")
    done(command(club, "backup", "--to", str(tmp_path), "--keep", "2"))
    left = sorted(path.name for path in tmp_path.iterdir())
    assert left[:1] + left[2:] == [names[-1], "coachbook-notes.zip", "holiday.zip"]
    assert re.fullmatch(r"coachbook-\d{4}-\d\d-\d\d-\d{6}\.zip", left[1])


def test_where_nothing_can_be_written_it_says_so(club: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    run = command(club, "backup", "--to", str(tmp_path / "file"))
    assert run.returncode
    assert "cannot be written" in run.stderr
    assert not (club / "backups").exists()


def test_a_day_after_the_newest_another_is_due(tmp_path: Path) -> None:
    now = datetime.now(UTC)
    assert is_due(tmp_path, now)
    path = tmp_path / "coachbook-2026-01-01-120000.zip"
    path.write_text("x")
    at = time.time()
    os.utime(path, (at, at))
    assert not is_due(tmp_path, now + timedelta(hours=23))
    assert is_due(tmp_path, now + timedelta(hours=25))
    assert is_due(tmp_path, now - timedelta(days=300))  # the clock was set back since


def test_the_site_makes_one_by_itself(tmp_path: Path) -> None:
    with served(laid(tmp_path / "data"), "--backups", str(tmp_path / "kept")) as site:
        until = time.monotonic() + 60
        while not backups_in(tmp_path / "kept") and time.monotonic() < until:
            time.sleep(0.2)
        assert "one a day" in site.said()
    (made,) = backups_in(tmp_path / "kept")
    assert read_manifest(made).tables["shared.club"].rows == 0
