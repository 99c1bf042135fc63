"""What tuning may touch: how far people may move, whose part stays, how long a wait may grow.

Metres and seconds. A coach shows places by the half step and counts in half seconds, so places
move by ``QUARTER`` metres and waits by ``HALF`` seconds, never by less.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from plays.core.play import ROLES, Role

QUARTER: Final = 0.25  # metres
HALF: Final = 0.5  # seconds
FARTHEST: Final = 1.5  # metres; farther away it is another play
LONGEST: Final = 2.0  # seconds


@dataclass(frozen=True, slots=True)
class TuningLimits:
    """``start`` and ``screen`` are how far a start or a screen may move, ``wait`` by how much a
    wait may grow; ``reads`` whether somebody may wait for something else than before. Of the
    roles in ``fixed`` nothing is changed."""

    start: float = 0.5
    screen: float = 0.5
    wait: float = 0.5
    reads: bool = True
    fixed: frozenset[Role] = frozenset()

    def __post_init__(self) -> None:
        far = max(self.start, self.screen)
        if min(self.start, self.screen, self.wait) < 0 or far > FARTHEST or self.wait > LONGEST:
            raise ValueError(f"places move by up to {FARTHEST} m, waits by up to {LONGEST} s")

    def to_json(self) -> dict[str, Any]:
        return {
            "start": self.start,
            "screen": self.screen,
            "wait": self.wait,
            "reads": self.reads,
            "fixed": sorted(self.fixed),
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> TuningLimits:
        """The inverse; raises ValueError for numbers outside the bounds."""
        return cls(
            float(data["start"]),
            float(data["screen"]),
            float(data["wait"]),
            bool(data["reads"]),
            frozenset(role for role in ROLES if role in data["fixed"]),
        )
