"""How often each look is there: the coach's guess, moved by the games.

A guess is a Beta belief worth five possessions (``proportions.from_guess``; without one, Jeffreys'
Beta(1/2, 1/2)). Only possessions that reached a look move it (``order.evidence``). Against one
defence the belief begins with what the others told, weighed down to four possessions: a power
prior (Ibrahim and Chen 2000, Stat Sci 15:46; from memory), the weight our choice.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from plays.core.defence.stance import Tactic
from practice.core.learning.order import LookOrder, LookPlace, evidence
from practice.core.proportions import FEWEST_FOR_PERCENT, Belief, from_guess
from practice.core.reps.called import CalledPlay
from practice.core.reps.rep import Id
from shared.core.language import N_, NN_, Language

UNKNOWN: Final = Belief(0.5, 0.5)
LEVEL: Final = 0.9
OTHERS_WORTH: Final = 4.0  # possessions: less than a guess, since defences differ; our choice

NEVER_REACHED: Final = N_("No possession has come to it yet.")
THERE: Final = NN_(
    "The play came to it {n} time; there: {there}.",
    "The play came to it {n} times; there: {there}.",
)
THERE_RANGE: Final = N_("{count} With the guess before it: {mean} % ({low} to {high}).")
THERE_RANGE_BARE: Final = N_("{count} That is {mean} % ({low} to {high}).")
WORKED: Final = NN_(
    "Taken {n} time; points or a foul: {worked}.",
    "Taken {n} times; points or a foul: {worked}.",
)


@dataclass(frozen=True, slots=True)
class LookCount:
    """Of the possessions that reached a look: how many, there, taken at the end, and worked."""

    reached: int = 0
    there: int = 0
    taken: int = 0
    worked: int = 0

    def __add__(self, other: LookCount) -> LookCount:
        return LookCount(
            self.reached + other.reached,
            self.there + other.there,
            self.taken + other.taken,
            self.worked + other.worked,
        )

    def __sub__(self, other: LookCount) -> LookCount:
        return LookCount(
            self.reached - other.reached,
            self.there - other.there,
            self.taken - other.taken,
            self.worked - other.worked,
        )


@dataclass(frozen=True, slots=True)
class LookEstimate:
    """How often a look is there, once the play comes to it; ``defence`` None is all of them.

    ``works`` is the belief about points or a foul, once it is taken, from the games alone.
    """

    look: str
    defence: Tactic | None
    count: LookCount
    guess: float | None
    belief: Belief
    works: Belief


Counts = Mapping[tuple[str, Tactic | None], LookCount]


def estimates(
    now: LookOrder, before: Mapping[Id, LookOrder], possessions: Iterable[CalledPlay]
) -> tuple[LookEstimate, ...]:
    """Of one play: each look of its state ``now``, over all defences and against each one met.

    ``before`` are the orders of the states that were run. What was logged for a look counts
    while its id, passer and receiver stay; ``left_out`` tells what no longer has a look.
    """
    counts = count_looks(now, before, possessions)
    found = []
    for place in now.places:
        whole = counts.get((place.id, None), LookCount())
        found.append(_estimate(place, None, whole, _prior(place.guess)))
        for defence in Tactic:
            own = counts.get((place.id, defence))
            if own is not None:
                prior = from_others(_prior(place.guess), whole - own)
                found.append(_estimate(place, defence, own, prior))
    return tuple(found)


def count_looks(
    now: LookOrder, before: Mapping[Id, LookOrder], possessions: Iterable[CalledPlay]
) -> Counts:
    """Counts by look and defence; under None those of all possessions, of no known defence too."""
    counts: dict[tuple[str, Tactic | None], LookCount] = {}
    for possession in possessions:
        order = now if possession.revision is None else before.get(possession.revision, now)
        told = evidence(order, possession)
        for look in told.there | told.absent:
            if not _same(now, order, look):
                continue
            one = _one(look, possession, there=look in told.there)
            for key in {(look, None), (look, possession.defence)}:
                counts[key] = counts.get(key, LookCount()) + one
    return counts


def left_out(
    now: LookOrder, before: Mapping[Id, LookOrder], possessions: Iterable[CalledPlay]
) -> Mapping[str, int]:
    """How often looks were taken that the state ``now`` no longer has, or has otherwise."""
    gone: dict[str, int] = {}
    for possession in possessions:
        look = possession.look
        order = now if possession.revision is None else before.get(possession.revision, now)
        if look is not None and not _same(now, order, look):
            gone[look] = gone.get(look, 0) + 1
    return gone


def from_others(guess: Belief, others: LookCount) -> Belief:
    """What is believed before a defence's own possessions: the guess moved by the others'."""
    moved = guess.after(others.there, others.reached)
    shrunk = min(1.0, OTHERS_WORTH / moved.worth)
    return Belief(moved.a * shrunk, moved.b * shrunk)


def look_text(estimate: LookEstimate, language: Language) -> str:
    """Counts first; a share with its range from five possessions on."""
    count = estimate.count
    if not count.reached:
        return language.say(NEVER_REACHED)
    said = language.say_n(*THERE, count.reached, there=count.there)
    if count.reached >= FEWEST_FOR_PERCENT:
        inside = estimate.belief.interval(LEVEL)
        shares = (estimate.belief.mean, inside.low, inside.high)
        mean, low, high = (language.number(100 * share, 0) for share in shares)
        bare = estimate.guess is None
        template = THERE_RANGE_BARE if bare else THERE_RANGE
        said = language.say(template, count=said, mean=mean, low=low, high=high)
    return said


def worked_text(estimate: LookEstimate, language: Language) -> str:
    """How often the look gave something, once it was taken."""
    return language.say_n(*WORKED, estimate.count.taken, worked=estimate.count.worked)


def _prior(guess: float | None) -> Belief:
    return UNKNOWN if guess is None else from_guess(guess)


def _estimate(
    place: LookPlace, defence: Tactic | None, count: LookCount, prior: Belief
) -> LookEstimate:
    belief = prior.after(count.there, count.reached)
    works = UNKNOWN.after(count.worked, count.taken)
    return LookEstimate(place.id, defence, count, place.guess, belief, works)


def _one(look: str, possession: CalledPlay, *, there: bool) -> LookCount:
    taken = look == possession.look
    return LookCount(1, int(there), int(taken), int(taken and possession.worked))


def _same(now: LookOrder, then: LookOrder, look: str) -> bool:
    """Whether a look is the same one in both states."""
    here, there = now.by_id.get(look), then.by_id.get(look)
    return here is not None and there is not None and here.ends == there.ends
