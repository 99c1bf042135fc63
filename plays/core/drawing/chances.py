"""The looks of each phase as a drawing shows them: the lanes of ``sequence``."""

from __future__ import annotations

from plays.core.sequence.course import LookLane as Chance
from plays.core.sequence.course import lanes as chances

__all__ = ["Chance", "chances"]
