"""What an opponent does against throw-ins: shares of what was seen, with Wilson's ranges."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Final

from plays.core.defence.stance import Tactic
from plays.core.defence.words import TACTICS
from plays.core.play import Situation
from practice.core.proportions import FEWEST_FOR_PERCENT, Interval, wilson
from shared.core.language import N_, NN_, Language

LEVEL: Final = 0.9

SEEN: Final = NN_("{count} of {n} time", "{count} of {n} times")
SEEN_RANGE: Final = N_("{seen}: {low} to {high} %")
MOSTLY: Final = N_("mostly {defence}")


@dataclass(frozen=True, slots=True)
class DefenceSighting:
    """A defence that was seen so many times against one kind of throw-in, on a day."""

    situation: Situation
    defence: Tactic
    count: int
    day: date


@dataclass(frozen=True, slots=True)
class DefenceShare:
    """A defence seen ``count`` of ``total`` times; ``inside`` holds the true share at 90 %."""

    defence: Tactic
    count: int
    total: int

    @property
    def share(self) -> float:
        return self.count / self.total

    @property
    def inside(self) -> Interval:
        return wilson(self.count, self.total, LEVEL)

    @property
    def is_told(self) -> bool:
        """Whether there is enough for a share to be said."""
        return self.total >= FEWEST_FOR_PERCENT


@dataclass(frozen=True, slots=True)
class Tendency:
    """What was seen in one situation, or in all where it is None: the most frequent first."""

    situation: Situation | None
    shares: tuple[DefenceShare, ...] = ()
    last: date | None = None

    @property
    def total(self) -> int:
        return sum(each.count for each in self.shares)

    @property
    def weights(self) -> Mapping[Tactic, float]:
        """The shares as parts that sum to 1; none where nothing was seen."""
        return {each.defence: each.share for each in self.shares}

    @property
    def usual(self) -> Tactic | None:
        """What was seen most; None where nothing leads, or where too little was seen to say."""
        first, *rest = self.shares or (None,)
        if first is None or not first.is_told:
            return None
        return None if rest and rest[0] and rest[0].count == first.count else first.defence


@dataclass(frozen=True, slots=True)
class Tendencies:
    """An opponent by situation, in the order of ``Situation``, those with something seen only."""

    overall: Tendency
    by_situation: tuple[Tendency, ...]

    def against(self, situation: Situation) -> Tendency:
        """For one situation; all of them together where fewer than five were seen in it."""
        for each in self.by_situation:
            if each.situation is situation and each.total >= FEWEST_FOR_PERCENT:
                return each
        return self.overall


def tendencies(sightings: Iterable[DefenceSighting]) -> Tendencies:
    """Sums what was seen. Raises ValueError for a count below zero."""
    counted = [each for each in sightings if _checked(each).count]
    own = ([each for each in counted if each.situation is one] for one in Situation)
    return Tendencies(
        _tendency(None, counted),
        tuple(_tendency(rows[0].situation, rows) for rows in own if rows),
    )


def share_text(share: DefenceShare, language: Language) -> str:
    """Counts first; the range beside them from five on."""
    seen = language.say_n(*SEEN, share.total, count=share.count)
    if not share.is_told:
        return seen
    low, high = (language.number(100 * end, 0) for end in (share.inside.low, share.inside.high))
    return language.say(SEEN_RANGE, seen=seen, low=low, high=high)


def usual_text(tendency: Tendency, language: Language) -> str:
    """What they do most in a few words, or nothing."""
    usual = tendency.usual
    return language.say(MOSTLY, defence=language.say(TACTICS[usual])) if usual else ""


def _tendency(situation: Situation | None, rows: list[DefenceSighting]) -> Tendency:
    counts: dict[Tactic, int] = {}
    for each in rows:
        counts[each.defence] = counts.get(each.defence, 0) + each.count
    total = sum(counts.values())
    ranked = sorted(counts, key=lambda tactic: (-counts[tactic], list(Tactic).index(tactic)))
    shares = tuple(DefenceShare(tactic, counts[tactic], total) for tactic in ranked)
    return Tendency(situation, shares, max((each.day for each in rows), default=None))


def _checked(sighting: DefenceSighting) -> DefenceSighting:
    if sighting.count < 0:
        raise ValueError(f"nothing is seen {sighting.count} times")
    return sighting
