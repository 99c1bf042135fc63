"""Every number of the check that nobody knows exactly, in one value, with how far it may be off.

A range is a pair of factors around the number; halves of the draws lie on either side of it.
All are drawn together: what a margin is worth shows only when everything is off at once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from types import MappingProxyType
from typing import Any, Final

import numpy as np

from plays.core.defence.guarding import STANDARD, Guarding
from plays.core.motion.pace import Pace
from plays.core.motion.sprint import Floats

USUAL: Final = (0.8, 1.2)  # for what has no range of its own; ours
KNOWN: Final = ("ball_drag", "height", "easy", "longest_pass")  # measured well, or no estimate
SHARES: Final = ("effort", "easy", "dribble", "on_ball", "behind", "low_ball")  # never above 1
RANGES: Final[Mapping[str, tuple[float, float]]] = MappingProxyType(
    {
        "follow": (0.6, 1.8),  # 0.2 to 0.6 s around 0.33 s: measured
        "choose": (0.7, 1.3),  # choice reactions differ by more than other times; ours
        "screened": (0.5, 1.5),  # nobody has measured what a screen costs; ours
        "trail": (0.3, 2.0),  # from on the heels to three tenths of a second; nobody has measured
        "under": (0.7, 1.5),  # from a hand's width behind the screener's body to a long step; ours
        "to_ball": (0.5, 1.5),  # teams differ in how they shift; ours
        "to_basket": (0.7, 1.3),
        "braking": (0.6, 1.2),  # half of professionals brake far softer, measured; harder is ours
    }
)


@dataclass(frozen=True, slots=True)
class Constants:
    """The constants of a check: how all move and throw, and how the five defend."""

    pace: Pace
    guarding: Guarding = STANDARD

    @classmethod
    def uncertain(cls) -> tuple[str, ...]:
        """The names of those that nobody knows exactly."""
        names = [field.name for part in (Pace, Guarding) for field in fields(part)]
        return tuple(name for name in names if name not in KNOWN)

    def off_by(self, factors: Mapping[str, float]) -> Constants:
        """With each number so many times as great; a share stays a share."""
        return Constants(scaled(self.pace, factors), scaled(self.guarding, factors))


def scaled(part: Any, factors: Mapping[str, float]) -> Any:
    """A pace or a guarding with its numbers times these factors."""
    values = {
        field.name: getattr(part, field.name) * factors[field.name]
        for field in fields(part)
        if field.name in factors
    }
    capped = {name: min(value, 1.0) for name, value in values.items() if name in SHARES}
    return replace(part, **(values | capped))


def range_of(name: str) -> tuple[float, float]:
    """The factors between which a number may be off."""
    return RANGES.get(name, USUAL)


def draws(count: int, seed: int = 0) -> list[Mapping[str, float]]:
    """So many sets of factors, spread evenly over all ranges at once (Sobol 1967, scrambled).

    ``count`` is best a power of two. The same seed gives the same draws.
    """
    from scipy.stats import qmc  # noqa: PLC0415 (slow to import)

    names = Constants.uncertain()
    points = qmc.Sobol(len(names), rng=np.random.default_rng(seed)).random(count)
    lows, highs = np.array([range_of(name) for name in names]).T
    return [dict(zip(names, row.tolist(), strict=True)) for row in _factors(points, lows, highs)]


def _factors(points: Floats, lows: Floats, highs: Floats) -> Sequence[Floats]:
    below = lows + (1.0 - lows) * 2.0 * points
    above = 1.0 + (highs - 1.0) * (2.0 * points - 1.0)
    return list(np.where(points < 0.5, below, above))
