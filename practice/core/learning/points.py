"""Points a possession, by play: what a call has given, drawn towards what all calls give.

A possession gives 0 to 3 points; how often each is a Dirichlet belief. Its middle is the team's own
distribution over all plays, and how much that weighs comes from how far the plays differ, by the
Dirichlet-multinomial likelihood. Before the data the share by which a play is drawn to the middle
is spread as in Christiansen and Morris 1997, J Am Stat Assoc 92:618 (evenly; from memory), times
one less the share: a range rather too wide than too narrow, our choice. That the middle itself is
counted from so many possessions is added to the spread (Kackar and Harville 1984, J Am Stat Assoc
79:853; from memory). No chance is drawn: the range is that of the Beta distribution over 0 to 3
points with the same mean and variance.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from practice.core.proportions import FEWEST_FOR_PERCENT, Belief, Interval
from practice.core.reps.called import MOST_POINTS, CalledPlay, CallResult
from practice.core.reps.rep import Id
from shared.core.language import N_, NN_, Language

Numbers = NDArray[np.float64]
FEWEST: Final = FEWEST_FOR_PERCENT  # possessions, before a play's points are put in numbers
LEVEL: Final = 0.9
STEPS: Final = 60  # more change nothing that is shown
SHARES: Final = (np.arange(STEPS) + 0.5) / STEPS  # by which a play of mean size is drawn in
VALUES: Final = np.arange(MOST_POINTS + 1, dtype=np.float64)
START: Final = 0.5  # of each value, before the team's first possession; our choice

# Baseline throw-ins of the EuroLeague, season 2018-19, first ten rounds, adult professionals. What
# they give from the throw-in until the ball is lost; ours is what a called play gives.
PROFESSIONAL: Final = 0.87

COUNT: Final = NN_("{n} possession, points: {points}.", "{n} possessions, points: {points}.")
COUNT_RANGE: Final = N_(
    "{count} With the team's other calls beside it: {mean} a possession ({low} to {high})."
)
FOULS: Final = NN_(
    "{n} possession ended in a foul whose throws nobody logged; it is not counted.",
    "{n} possessions ended in fouls whose throws nobody logged; they are not counted.",
)
COMPARED: Final = N_(
    "For comparison, not as a target: adult professionals made {points} a possession from baseline"
    " throw-ins (EuroLeague 2018-19, first ten rounds)."
)


@dataclass(frozen=True, slots=True)
class PlayPoints:
    """What a play's possessions gave.

    ``by_value`` counts them by points, 0 to 3; ``unknown`` are fouls whose throws nobody logged.
    ``mean`` is points a possession, drawn towards the team's; ``inside`` holds the truth at 90 %.
    Both are None below five possessions.
    """

    play: Id
    by_value: tuple[int, ...]
    unknown: int
    mean: float | None
    inside: Interval | None

    @property
    def possessions(self) -> int:
        return sum(self.by_value)

    @property
    def points(self) -> int:
        return sum(value * count for value, count in enumerate(self.by_value))


def points_by_play(possessions: Iterable[CalledPlay]) -> tuple[PlayPoints, ...]:
    """Each play that was called, in the order of its first call.

    A turnover, five seconds and a reset give 0: the play itself gave nothing.
    """
    counts: dict[Id, list[int]] = {}
    unknown: dict[Id, int] = {}
    for each in possessions:
        own = counts.setdefault(each.play, [0] * (MOST_POINTS + 1))
        if each.result is CallResult.FOUL and each.points is None:
            unknown[each.play] = unknown.get(each.play, 0) + 1
        else:
            own[each.points or 0] += 1
    table = np.array(list(counts.values()), dtype=np.float64).reshape(-1, MOST_POINTS + 1)
    found = []
    for play, own, (mean, inside) in zip(counts, counts.values(), pooled(table), strict=True):
        told = sum(own) >= FEWEST
        found.append(
            PlayPoints(
                play,
                tuple(own),
                unknown.get(play, 0),
                mean if told else None,
                inside if told else None,
            )
        )
    return tuple(found)


def pooled(counts: Numbers) -> list[tuple[float, Interval]]:
    """Mean and 90 % range of points a possession for each row of counts by value, (plays, 4)."""
    if not counts.sum():
        usual, apart = _moments(np.full(len(VALUES), START))
        return [spread_over(float(usual), float(apart)) for _ in counts]
    totals = counts.sum(axis=1)
    weights = even_weights(totals)
    middles = middle_for(weights, counts)
    chances = shrinking(weights, middles, counts)
    off = _moments(middles)[1]  # how far the middle may be off
    middles = middles / middles.sum(axis=1, keepdims=True)
    found = []
    for own, total in zip(counts, totals, strict=True):
        means, variances = _moments(weights[:, None] * middles + own)
        variances = variances + (weights / (weights + total)) ** 2 * off
        mean = float(chances @ means)
        variance = float(chances @ (variances + (means - mean) ** 2))
        found.append(spread_over(mean, variance))
    return found


def even_weights(totals: Numbers) -> Numbers:
    """How many possessions the team's distribution may weigh: so that the share by which a play of
    mean size is drawn to the middle goes in even steps from 0 to 1."""
    return np.asarray(totals[totals > 0].mean() * SHARES / (1 - SHARES))


def middle_for(weights: Numbers, counts: Numbers) -> Numbers:
    """The team's distribution for each weight, as counts of possessions, (steps, 4).

    Plays that differ tell less of the middle the more possessions each has: n of them count as
    n/(1 + (n-1)/(weight+1)), the effective size of a sample in clusters (Kish 1965, Survey
    Sampling; from memory).
    """
    totals = counts.sum(axis=1)
    alike = 1 / (weights[:, None] + 1)
    each = 1 / (1 + np.maximum(totals - 1, 0) * alike)  # (steps, plays)
    return np.asarray(each @ counts + START)


def shrinking(weights: Numbers, middles: Numbers, counts: Numbers) -> Numbers:
    """How likely each weight is: the Dirichlet-multinomial likelihood of all plays."""
    from scipy.special import gammaln  # noqa: PLC0415 (scipy only where it is needed)

    totals = counts.sum(axis=1)
    alpha = (weights[:, None] * middles / middles.sum(axis=1, keepdims=True))[:, None, :]
    whole = weights[:, None]
    per_play = gammaln(whole) - gammaln(whole + totals)
    per_play = per_play + (gammaln(alpha + counts) - gammaln(alpha)).sum(axis=2)
    log = per_play.sum(axis=1) + np.log(1 - SHARES)
    chances = np.exp(log - log.max())
    return np.asarray(chances / chances.sum())


def spread_over(mean: float, variance: float) -> tuple[float, Interval]:
    """The mean, and the central 90 % of the Beta over 0 to 3 points with these moments."""
    share = mean / MOST_POINTS
    room = share * (1 - share)
    worth = room / (variance / MOST_POINTS**2) - 1
    inside = Belief(share * worth, (1 - share) * worth).interval(LEVEL)
    return mean, Interval(MOST_POINTS * inside.low, MOST_POINTS * inside.high)


def points_text(told: PlayPoints, language: Language) -> str:
    """Counts first; below five possessions nothing else."""
    said = language.say_n(*COUNT, told.possessions, points=told.points)
    if told.mean is None or told.inside is None:
        return said
    mean, low, high = (
        language.number(value, 2, fixed=True)
        for value in (told.mean, told.inside.low, told.inside.high)
    )
    return language.say(COUNT_RANGE, count=said, mean=mean, low=low, high=high)


def fouls_text(told: PlayPoints, language: Language) -> str:
    """What is left out of the points, or nothing."""
    return language.say_n(*FOULS, told.unknown) if told.unknown else ""


def comparison_text(language: Language) -> str:
    """What professionals make of a throw-in: beside the figures of throw-ins, never as a mark."""
    return language.say(COMPARED, points=language.number(PROFESSIONAL, 2, fixed=True))


def _moments(alpha: Numbers) -> tuple[Numbers, Numbers]:
    """Mean and variance of points a possession under Dirichlet beliefs, (..., 4)."""
    total = alpha.sum(axis=-1)
    mean = alpha @ VALUES / total
    square = alpha @ VALUES**2 / total
    return mean, (square - mean**2) / (total + 1)
