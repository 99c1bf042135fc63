"""The demo club's plays, read from their files once in a run."""

from __future__ import annotations

from coachbook.demo.files import demo_plays
from plays.core.play import Play

DEMO: tuple[Play, ...] = demo_plays()
