"""The demo club's plays, read from their files."""

from __future__ import annotations

from pathlib import Path

from plays.core.document.file import read_play
from plays.core.play import Play

FOLDER = Path(__file__).parents[3] / "coachbook" / "demo" / "plays"

DEMO: tuple[Play, ...] = tuple(
    read_play(file.read_bytes()) for file in sorted(FOLDER.glob("*.json"))
)
