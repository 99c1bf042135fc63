"""What tuning has gained: each look before and after with its band, and what each change does.

Before and after are drawn with the same uncertain numbers, so that the gain has a band of its
own, which is narrower than those of the margins. Seconds.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, Final

import numpy as np

from plays.core.check.bands import BETWEEN, DRAWS, Band, band_of, verdicts_at
from plays.core.defence.uncertain import Constants, draws
from plays.core.defence.verdict import Tactic, Verdict
from plays.core.play import Play, Role
from plays.core.tune.changes import Plan, applied, without
from plays.core.tune.worth import TACTICS, Judge, Verdicts, proof, value

LEAST: Final = 0.01  # seconds; less is no gain
FELT: Final = 0.05  # seconds of difference from which on a part of the margin is named
CLEAR: Final = 0.6  # share of the draws in which there has to be a gain; ours
WORTH: Final = 0.02  # seconds of gain, at the median, below which nobody relearns a play; ours


class Reason(StrEnum):
    """By what a change helps a look."""

    SOONER = "sooner"  # it can be thrown earlier
    HELD = "held"  # a screen holds the defender up longer
    SHORTER = "shorter"  # the ball is in the air for less time
    FARTHER = "farther"  # the defender has further to come
    TOGETHER = "together"  # only with the other changes


@dataclass(frozen=True, slots=True)
class Effect:
    """What would be lost without a change: of which look, against what, and why."""

    reason: Reason
    look: str = ""
    tactic: Tactic = Tactic.CHASE
    seconds: float = 0.0  # of worth
    by: float = 0.0  # seconds of the part that is named
    defender: Role | None = None
    screener: Role | None = None

    def to_json(self) -> dict[str, Any]:
        return {
            "reason": self.reason.value,
            "look": self.look,
            "tactic": self.tactic.value,
            "seconds": round(self.seconds, 3),
            "by": round(self.by, 3),
            "defender": self.defender,
            "screener": self.screener,
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Effect:
        return cls(
            **{**data, "reason": Reason(data["reason"]), "tactic": Tactic(data["tactic"])},
        )


@dataclass(frozen=True, slots=True)
class Gain:
    """The gain of the worst look: median, and the interval that holds nine draws in ten;
    ``better`` is the share of the draws in which it gains at all."""

    median: float
    low: float
    high: float
    better: float

    @property
    def clear(self) -> bool:
        """Whether there is a gain at all, in most draws."""
        return self.better >= CLEAR and self.median >= WORTH

    def to_json(self) -> dict[str, float]:
        return {name: round(getattr(self, name), 3) for name in ("median", "low", "high", "better")}

    @classmethod
    def from_json(cls, data: Mapping[str, float]) -> Gain:
        return cls(**data)


@dataclass(frozen=True, slots=True)
class Compared:
    """The bands of all looks against each of ``TACTICS``, before and after, and the gain."""

    before: Mapping[Tactic, tuple[Band, ...]]
    after: Mapping[Tactic, tuple[Band, ...]]
    gain: Gain

    def to_json(self) -> dict[str, Any]:
        return {
            "before": _bands_to_json(self.before),
            "after": _bands_to_json(self.after),
            "gain": self.gain.to_json(),
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Compared:
        before, after = (_bands_from_json(data[name]) for name in ("before", "after"))
        return cls(before, after, Gain.from_json(data["gain"]))


def _bands_to_json(bands: Mapping[Tactic, tuple[Band, ...]]) -> dict[str, Any]:
    return {tactic.value: [band.to_json() for band in found] for tactic, found in bands.items()}


def _bands_from_json(data: Mapping[str, Any]) -> dict[Tactic, tuple[Band, ...]]:
    return {
        Tactic(tactic): tuple(Band.from_json(band) for band in found)
        for tactic, found in data.items()
    }


def compared(old: Play, new: Play, judge: Judge, count: int = DRAWS) -> Compared:
    """Two versions of a play against both tactics, ``count`` draws each."""
    was, now = (_drawn(play, judge, count) for play in (old, new))
    gains = np.array([judge.worst(b) - judge.worst(a) for a, b in zip(was, now, strict=True)])
    low, median, high = np.percentile(gains, BETWEEN)
    better = float(np.mean(gains > LEAST))
    return Compared(_bands(was), _bands(now), Gain(float(median), float(low), float(high), better))


def _drawn(play: Play, judge: Judge, count: int) -> list[Verdicts]:
    """The verdicts of each draw."""
    constants, factors = Constants(judge.base), draws(count)
    found = [verdicts_at(play, each, constants, judge.paces, factors) for each in TACTICS]
    return list(zip(*found, strict=True))


def _bands(drawn: Sequence[Verdicts]) -> dict[Tactic, tuple[Band, ...]]:
    return {
        tactic: tuple(band_of(of_look) for of_look in zip(*(d[k] for d in drawn), strict=True))
        for k, tactic in enumerate(TACTICS)
    }


def effects(play: Play, plan: Plan, judge: Judge) -> tuple[Effect, ...]:
    """For each change of the plan, what it does: the plan is weighed once without it."""
    versions = [plan, *(without(plan, change.subject) for change in plan)]
    tuned, *others = judge.over([applied(play, each) for each in versions], proof())
    if tuned is None:
        return ()
    return tuple(
        Effect(Reason.TOGETHER) if other is None else _effect(other, tuned, judge)
        for other in others
    )


Pairs = list[tuple[Verdict, Verdict]]  # of one look and tactic, in each draw: without, with


def _effect(without_it: Sequence[Verdicts], tuned: Sequence[Verdicts], judge: Judge) -> Effect:
    looks = range(len(tuned[0][0]))
    by_look: list[Pairs] = [
        [(old[k][n], new[k][n]) for old, new in zip(without_it, tuned, strict=True)]
        for k in range(len(TACTICS))
        for n in looks
        if tuned[0][k][n].look in judge.looks
    ]
    pairs = max(by_look, key=_gained)
    if _gained(pairs) < LEAST:
        return Effect(Reason.TOGETHER)
    reason, by, screener = max(_reasons(pairs), key=lambda each: each[1])
    new = pairs[0][1]
    return Effect(reason, new.look, new.tactic, _gained(pairs), by, new.stopper, screener)


def _gained(pairs: Pairs) -> float:
    return _mean(value(new) - value(old) for old, new in pairs)


def _mean(numbers: Iterable[float]) -> float:
    return float(np.mean(list(numbers)))


def _reasons(pairs: Pairs) -> Iterator[tuple[Reason, float, Role | None]]:
    """What is better, in seconds, the defender's way at last."""
    for screener in sorted({held.screener for _, new in pairs for held in new.held}):
        yield (
            Reason.HELD,
            _mean(_held(n, screener) - _held(o, screener) for o, n in pairs),
            screener,
        )
    yield Reason.SOONER, _mean(old.turn - new.turn for old, new in pairs), None
    flights = (old.window.throw.seconds - new.window.throw.seconds for old, new in pairs)
    yield Reason.SHORTER, _mean(flights), None
    yield Reason.FARTHER, FELT, None


def _held(verdict: Verdict, screener: Role) -> float:
    return sum(held.seconds for held in verdict.held if held.screener == screener)
