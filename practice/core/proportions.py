"""Small counts said honestly: intervals for x of n, and a guess that a log can move.

Wilson 1927, recommended for small n by Brown, Cai and DasGupta 2001, Stat Sci 16:101. A guess of
mean m that is worth n0 reps is Beta(m*n0, (1-m)*n0).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist
from typing import Final

GUESS_WORTH: Final = 5.0  # reps: our choice; a person's "9 of 10" is worth less than ten reps
GUESS_CAP: Final = 10.0
FEWEST_FOR_PERCENT: Final = 5


@dataclass(frozen=True, slots=True)
class Interval:
    low: float
    high: float


def wilson(clean: int, total: int, level: float = 0.95) -> Interval:
    """Wilson's score interval; (0, 1) without data. Raises ValueError for senseless counts."""
    _check_counts(clean, total)
    if total == 0:
        return Interval(0.0, 1.0)
    z = NormalDist().inv_cdf(0.5 + level / 2)
    share = clean / total
    middle = share + z * z / (2 * total)
    half = z * math.sqrt(share * (1 - share) / total + (z / (2 * total)) ** 2)
    scale = 1 + z * z / total
    low = 0.0 if clean == 0 else (middle - half) / scale
    high = 1.0 if clean == total else (middle + half) / scale
    return Interval(low, high)


@dataclass(frozen=True, slots=True)
class Belief:
    """A Beta distribution over how often something goes right."""

    a: float
    b: float

    @property
    def mean(self) -> float:
        return self.a / (self.a + self.b)

    @property
    def worth(self) -> float:
        """How many reps this belief weighs as much as."""
        return self.a + self.b

    def after(self, clean: float, total: float) -> Belief:
        """The belief once so many reps were logged."""
        return Belief(self.a + clean, self.b + total - clean)

    def interval(self, level: float = 0.9) -> Interval:
        """The central interval that holds the truth with this probability."""
        from scipy.special import betaincinv  # noqa: PLC0415 (scipy only where it is needed)

        tail = (1 - level) / 2
        low, high = (float(betaincinv(self.a, self.b, p)) for p in (tail, 1 - tail))
        return Interval(low, high)

    def below(self, share: float) -> float:
        """The probability that the true share is below ``share``."""
        from scipy.special import betainc  # noqa: PLC0415 (scipy only where it is needed)

        return float(betainc(self.a, self.b, share))


def from_guess(share: float, worth: float = GUESS_WORTH) -> Belief:
    """A coach's guess as a belief, worth at most ``GUESS_CAP`` reps.

    Raises ValueError unless 0 <= share <= 1. A guess of never or always is pulled half a rep
    towards the middle, or no log could ever move it.
    """
    if not 0 <= share <= 1:
        raise ValueError(f"a guess lies between 0 and 1, not at {share}")
    worth = min(worth, GUESS_CAP)
    a = min(max(share * worth, 0.5), worth - 0.5)
    return Belief(a, worth - a)


def chance_of(belief: Belief, clean: int, total: int) -> float:
    """Beta-binomial: how likely exactly ``clean`` of ``total`` was under the belief."""
    _check_counts(clean, total)
    return math.exp(
        math.lgamma(total + 1)
        - math.lgamma(clean + 1)
        - math.lgamma(total - clean + 1)
        + _log_beta(belief.a + clean, belief.b + total - clean)
        - _log_beta(belief.a, belief.b)
    )


def surprise(belief: Belief, clean: int, total: int) -> float:
    """The smaller tail: how likely a log at least this far off on its side was."""
    _check_counts(clean, total)
    below = sum(chance_of(belief, count, total) for count in range(clean + 1))
    above = sum(chance_of(belief, count, total) for count in range(clean, total + 1))
    return min(below, above, 1.0)


def _log_beta(a: float, b: float) -> float:
    return math.lgamma(a) + math.lgamma(b) - math.lgamma(a + b)


def _check_counts(clean: int, total: int) -> None:
    if not 0 <= clean <= total:
        raise ValueError(f"{clean} of {total} is no count")
