"""Rendered pieces: shared by processes, bounded, and gone with the team's people."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

from shared import pieces


@pytest.fixture(autouse=True)
def data(tmp_path: Path, settings: Any) -> Path:
    settings.DATA = tmp_path
    return tmp_path


def never() -> bytes:
    raise AssertionError("it was drawn again")


def test_a_piece_is_made_once_for_its_facts() -> None:
    assert pieces.kept(1, ("a", 2), lambda: b"one") == b"one"
    assert pieces.kept(1, ("a", 2), never) == b"one"
    assert pieces.kept(1, ("a", 3), lambda: b"other") == b"other"
    assert pieces.kept(2, ("a", 2), lambda: b"of another team") == b"of another team"


def test_other_code_draws_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    pieces.kept(1, "a", lambda: b"one")
    monkeypatch.setattr(pieces, "code_state", lambda: "another")
    assert pieces.kept(1, "a", lambda: b"two") == b"two"


def test_dropping_a_team_leaves_the_others() -> None:
    pieces.kept(1, "a", lambda: b"Ida")
    pieces.kept(2, "a", lambda: b"Olaf")
    pieces.drop(1)
    pieces.drop(1)
    assert pieces.kept(1, "a", lambda: b"new") == b"new"
    assert pieces.kept(2, "a", never) == b"Olaf"


def test_what_was_asked_for_longest_ago_makes_room(data: Path) -> None:
    for number in range(4):
        pieces.kept(1, number, lambda: b"x" * 100)
        for path in (data / "pieces" / "1").iterdir():
            os.utime(path, (path.stat().st_atime, path.stat().st_mtime - 10))
    pieces.kept(1, 0, never)  # asked for again, so the youngest
    pieces.tidy(most=250)
    assert len(list((data / "pieces" / "1").iterdir())) == 2
    pieces.kept(1, 0, never)
    pieces.kept(1, 3, never)
    pieces.tidy(oldest=-1)
    assert not list((data / "pieces" / "1").iterdir())


def test_a_disk_that_takes_nothing_costs_only_time(data: Path) -> None:
    (data / "pieces").write_text("no folder")
    assert pieces.kept(1, "a", lambda: b"one") == b"one"
    assert pieces.kept(1, "a", lambda: b"again") == b"again"
