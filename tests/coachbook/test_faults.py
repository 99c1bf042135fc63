"""A real site whose disk, database or clock fails: what was acknowledged is there, every
failure is told in words with a reference that the log has, and the site comes back by itself.

A phone's side of SIGKILL is tried in tests/browser/test_log_reliability.py, a truncated backup in
test_backup.py, PostgreSQL in test_faults_postgresql.py.
"""

from __future__ import annotations

import os
import random
import resource
import shutil
import sqlite3
import subprocess
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest

from coachbook.benchmarks.courtside import Hall, hall
from tests.coachbook.faulty import PATIENCE, Phones, ask, is_well, kept_in_file, plain, told_clearly
from tests.template import laid

IS_ROOT = os.getuid() == 0
NOBODY = "nobody"


@contextmanager
def standing(data: Path, log: Path, user: str | None = None) -> Iterator[Hall]:
    """A site that runs, its words kept outside its own folder."""
    place = hall(data if user else laid(data), log=log, user=user)
    place.start()
    try:
        yield place
    finally:
        place.kill()


@pytest.fixture
def small_disk() -> Iterator[Path]:
    """A disk of 120 MB of its own, in memory."""
    folder = Path(tempfile.mkdtemp(prefix="coachbook-disk-"))
    mounted = (
        IS_ROOT
        and not subprocess.run(
            ["mount", "-t", "tmpfs", "-o", "size=120m", "none", str(folder)],
            check=False,
            capture_output=True,
        ).returncode
    )
    try:
        if not mounted:
            pytest.skip("only root may mount a small disk; the limit on files is tried anyway")
        yield folder
    finally:
        if mounted:
            subprocess.run(["umount", "-l", str(folder)], check=True)
        folder.rmdir()


KILLS = 20


def test_twenty_kills_in_the_midst_of_writes_lose_nothing_acknowledged(tmp_path: Path) -> None:
    """As after a power cut of the process: who was told that a rep is kept finds it kept."""
    chance = random.Random(KILLS)
    with standing(tmp_path / "data", tmp_path / "said.txt") as place:
        phones = Phones(place)
        for _ in range(KILLS):
            with phones.sending():
                enough = len(phones.acknowledged) + 4
                until = time.monotonic() + PATIENCE
                while len(phones.acknowledged) < enough and time.monotonic() < until:
                    time.sleep(0.005)
                time.sleep(chance.uniform(0.0, 0.1))
                place.kill()
            assert len(phones.acknowledged) >= enough
            assert plain(phones.acknowledged) <= kept_in_file(place)
            place.start()
        assert phones.failed == []
        more = kept_in_file(place) - plain(phones.acknowledged)
        assert len(more) <= 4 * KILLS  # in each kill one of each phone, not answered any more
        assert phones.send().status == 200


def fill(ballast: Path) -> None:
    """Write until the disk takes no more: the site writes too, so how much is free tells little."""
    with ballast.open("wb", buffering=0) as file, suppress(OSError):
        while file.write(b"\0" * 65536):
            pass


def test_a_full_disk(small_disk: Path, tmp_path: Path) -> None:
    ballast = small_disk / "ballast"
    with standing(small_disk / "data", tmp_path / "said.txt") as place:
        phones = Phones(place)
        phones.send_until(lambda answer: answer.status == 200)
        fill(ballast)
        phones.send_until(lambda answer: answer.status != 200)
        phones.send()
        assert ask(place, f"/teams/{place.facts['team']}/").status == 200  # reading goes on
        assert ask(place, "/health/").status == 503
        told_clearly(place, phones.failed, "The server has no room left")
        ballast.unlink()
        assert phones.send().status == 200
        assert kept_in_file(place) == plain(phones.acknowledged)


def test_a_file_that_may_not_grow(tmp_path: Path) -> None:
    """The same for any account: the system refuses a write beyond a size (setrlimit, EFBIG)."""
    with standing(tmp_path / "data", tmp_path / "said.txt") as place:
        phones = Phones(place)
        phones.send_until(lambda answer: answer.status == 200)
        assert place.process is not None
        before = resource.prlimit(place.process.pid, resource.RLIMIT_FSIZE, (200_000, -1))
        phones.send_until(lambda answer: answer.status != 200)
        phones.send()
        resource.prlimit(place.process.pid, resource.RLIMIT_FSIZE, before)
        assert ask(place, f"/teams/{place.facts['team']}/").status == 200
        assert phones.send().status == 200
        told_clearly(place, phones.failed, "The server cannot reach its data")
        assert kept_in_file(place) == plain(phones.acknowledged)


@pytest.fixture
def own_folder() -> Iterator[Path]:
    """A folder that an account without powers may write to: root is never refused."""
    folder = Path(tempfile.mkdtemp(prefix="coachbook-own-"))
    if IS_ROOT:
        shutil.chown(folder, NOBODY)
    yield folder
    shutil.rmtree(folder)


def test_a_database_that_can_only_be_read(own_folder: Path, tmp_path: Path) -> None:
    user = NOBODY if IS_ROOT else None
    with standing(own_folder / "data", tmp_path / "said.txt", user) as place:
        phones = Phones(place)
        phones.send_until(lambda answer: answer.status == 200)
        files = list(place.data.glob("club.sqlite3*"))
        for file in files:
            file.chmod(0o400)
        phones.send_until(lambda answer: answer.status != 200)
        assert ask(place, f"/teams/{place.facts['team']}/").status == 200
        assert ask(place, "/health/").status == 503
        for file in files:
            file.chmod(0o600)
        assert phones.send().status == 200
        assert is_well(place)
        told_clearly(place, phones.failed, "The server can only be read just now")
        assert kept_in_file(place) == plain(phones.acknowledged)


@contextmanager
def locked(place: Hall) -> Iterator[None]:
    """Somebody else writes all the while, as a program beside the site might."""
    other = sqlite3.connect(place.data / "club.sqlite3", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        yield
    finally:
        other.execute("ROLLBACK")
        other.close()


def test_a_database_locked_for_ten_seconds_costs_time_and_nothing_else(tmp_path: Path) -> None:
    with standing(tmp_path / "data", tmp_path / "said.txt") as place:
        phones = Phones(place)
        phones.send_until(lambda answer: answer.status == 200)
        writer = threading.Thread(target=phones.send)
        with locked(place):
            writer.start()
            until = time.monotonic() + 10
            slowest = 0.0
            while time.monotonic() < until:
                answer = ask(place, f"/teams/{place.facts['team']}/")
                assert answer.status == 200
                slowest = max(slowest, answer.seconds)
                time.sleep(0.5)
        writer.join()
        assert phones.failed == []
        assert len(phones.acknowledged) == 2
        assert slowest < 5  # who reads never waits for who writes
        assert kept_in_file(place) == plain(phones.acknowledged)


def test_a_database_locked_beyond_all_patience_is_told(tmp_path: Path) -> None:
    with standing(tmp_path / "data", tmp_path / "said.txt") as place:
        phones = Phones(place)
        phones.send_until(lambda answer: answer.status == 200)
        with locked(place):
            assert phones.send().status == 503
        told_clearly(place, phones.failed, "The server is busy")
        assert phones.send().status == 200
        assert kept_in_file(place) == plain(phones.acknowledged)


# Put before everything else in the server's process: its clock is as far off as a file says.
CLOCK = """
import os, time
from datetime import timedelta
from django.utils import timezone
true_now, true_time = timezone.now, time.time
def off():
    with open(os.environ["TEST_CLOCK"]) as file:
        return float(file.read() or 0)
timezone.now = lambda: true_now() + timedelta(seconds=off())
time.time = lambda: true_time() + off()
"""
DAY = 86_400


def test_a_clock_that_jumps(tmp_path: Path) -> None:
    """A laptop whose battery is empty begins in another year, and is set right in the evening."""
    clock = tmp_path / "clock"
    clock.write_text("0")
    (tmp_path / "before").mkdir()
    (tmp_path / "before" / "sitecustomize.py").write_text(CLOCK)
    place = hall(laid(tmp_path / "data"), log=tmp_path / "said.txt")
    place.settings |= {"PYTHONPATH": str(tmp_path / "before"), "TEST_CLOCK": str(clock)}
    place.start()
    try:
        phones = Phones(place)
        for days, status in ((0, 200), (-1500, 200), (0, 200), (20, 200), (400, 302), (0, 200)):
            clock.write_text(str(days * DAY))
            assert phones.send().status == status, days
            assert is_well(place)
            if status == 200:  # beyond a month everybody signs in again; the phone keeps its taps
                assert ask(place, f"/teams/{place.facts['team']}/").status == 200
                assert ask(place, f"/court/{place.facts['practice']}/").status == 200
    finally:
        place.kill()
    assert len(phones.acknowledged) == 5
    assert kept_or_held(place) == plain(phones.acknowledged)


def kept_or_held(place: Hall) -> set[str]:
    """Counted reps and those that wait for a decision: a date far off is for a person to judge."""
    database = sqlite3.connect(place.data / "club.sqlite3")
    held = {row[0] for row in database.execute("SELECT id FROM practice_heldrep")}
    database.close()
    return kept_in_file(place) | held
