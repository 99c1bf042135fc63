"""The data folder: nobody else reads it, and its key is neither weak nor made anew in silence."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured

from coachbook import environment
from coachbook.data_folder import kept_key, make_private

POSIX = pytest.mark.skipif(os.name != "posix", reason="file rights of POSIX")


def rights(path: Path) -> int:
    return path.stat().st_mode & 0o777


@pytest.fixture(autouse=True)
def no_settings_of_this_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("COACHBOOK_SECRET_KEY", raising=False)
    monkeypatch.delenv("COACHBOOK_DATABASE", raising=False)


@POSIX
def test_a_new_database_and_its_log_are_the_owners_alone(tmp_path: Path) -> None:
    data = tmp_path / "data"
    data.mkdir(mode=0o700)
    name = str(environment.database(data)["NAME"])
    connection = sqlite3.connect(name)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("CREATE TABLE one (n)")
    made = sorted(data.iterdir())
    assert [path.name for path in made] == [f"club.sqlite3{end}" for end in ("", "-shm", "-wal")]
    assert {rights(path) for path in made} == {0o600}
    connection.close()


@POSIX
def test_what_others_could_read_is_mended_and_told(tmp_path: Path) -> None:
    tmp_path.chmod(0o755)
    for name in ("club.sqlite3", "secret.key"):
        (tmp_path / name).touch()
        (tmp_path / name).chmod(0o644)
    told = make_private(tmp_path)
    assert {path.name for path in told} == {tmp_path.name, "club.sqlite3", "secret.key"}
    assert rights(tmp_path) == 0o700
    assert rights(tmp_path / "club.sqlite3") == 0o600
    assert make_private(tmp_path) == []


@POSIX
def test_a_folder_that_holds_other_things_keeps_its_rights(tmp_path: Path) -> None:
    tmp_path.chmod(0o755)
    (tmp_path / "letters.txt").touch()
    (tmp_path / "secret.key").touch()
    (tmp_path / "secret.key").chmod(0o640)
    assert [path.name for path in make_private(tmp_path)] == ["secret.key"]
    assert rights(tmp_path) == 0o755


@pytest.mark.parametrize("text", ["", "short", "k" * 49])
def test_a_weak_key_is_refused(text: str, tmp_path: Path) -> None:
    (tmp_path / "secret.key").write_text(text, "ascii")
    with pytest.raises(ImproperlyConfigured, match="50 or more"):
        kept_key(tmp_path)


@pytest.mark.parametrize("sign", ["club.sqlite3", "static/collected.stamp"])
def test_a_lost_key_is_told_and_not_made_anew(sign: str, tmp_path: Path) -> None:
    path = tmp_path / sign
    path.parent.mkdir(exist_ok=True)
    path.write_text("in use", "ascii")
    with pytest.raises(ImproperlyConfigured, match="Put it back from a backup"):
        kept_key(tmp_path)
    assert not (tmp_path / "secret.key").exists()
