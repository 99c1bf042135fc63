"""The demo club's plays, as the play files that they are."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from plays.core.document.file import read_play
from plays.core.play import Play

FOLDER = Path(__file__).resolve().parent / "plays"


@cache
def demo_play(key: str) -> Play:
    """One play by its key. Raises FileNotFoundError."""
    return read_play((FOLDER / f"{key}.json").read_bytes())


@cache
def demo_plays() -> tuple[Play, ...]:
    """All of them, by key."""
    return tuple(demo_play(path.stem) for path in sorted(FOLDER.glob("*.json")))
