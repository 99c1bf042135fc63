"""Looks at which guess and games disagree, said at a level that does not cry wolf.

A season has some ninety looks; at one in twenty each, guesses that are right would be called wrong
in every season. At one in a hundred, on counts, that happens in one season of five; of guesses of
9 in 10 where 3 in 10 is true, reached 8 to 30 times, half are found. ``test_disagree.py`` has both.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from practice.core.learning.looks import LookEstimate
from practice.core.proportions import from_guess, surprise
from shared.core.language import N_, Language

SURPRISE: Final = 0.01  # rarer than this, guess and games disagree; our choice

OFTENER: Final = N_(
    "You guessed that it is there {guess} times in 10. In games it is there oftener: {there} of the"
    " {reached} times the play came to it."
)
RARER: Final = N_(
    "You guessed that it is there {guess} times in 10. In games it is there less often: {there} of"
    " the {reached} times the play came to it."
)


@dataclass(frozen=True, slots=True)
class Disagreement:
    """``chance`` is how likely a log at least this far off, either way, was under the guess."""

    estimate: LookEstimate
    chance: float

    @property
    def rarer(self) -> bool:
        """Whether the look is there less often than the guess says."""
        assert self.estimate.guess is not None  # only a guess can be disagreed with
        return self.estimate.count.there < self.estimate.guess * self.estimate.count.reached


def disagreements(estimates: Iterable[LookEstimate]) -> tuple[Disagreement, ...]:
    """The looks at which the games speak against the guess, worst first.

    Only the estimates over all defences are weighed: a guess is about them all.
    """
    weighed = (
        Disagreement(each, two_sided(each.guess, each.count.there, each.count.reached))
        for each in estimates
        if each.defence is None and each.guess is not None
    )
    found = (each for each in weighed if each.chance < SURPRISE)
    return tuple(sorted(found, key=lambda each: each.chance))


def two_sided(guess: float, there: int, reached: int) -> float:
    """How likely a log this far off on either side was, were the guess right.

    The guess is a belief, not a certainty: Beta-binomial, twice the smaller tail.
    """
    return min(1.0, 2.0 * surprise(from_guess(guess), there, reached))


def disagreement_text(found: Disagreement, language: Language) -> str:
    """The sentence for a coach."""
    estimate = found.estimate
    assert estimate.guess is not None  # only a guess can be disagreed with
    return language.say(
        RARER if found.rarer else OFTENER,
        guess=language.number(10 * estimate.guess, 0),
        there=estimate.count.there,
        reached=estimate.count.reached,
    )
