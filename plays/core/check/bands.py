"""What the margins of a play's looks are worth: all uncertain numbers drawn at once, many times.

Seconds, and shares of the draws. The word of a look is the one that holds in most draws.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

import numpy as np

from plays.core.check.after import by_play, lines_of
from plays.core.defence.uncertain import Constants, draws, scaled
from plays.core.defence.verdict import How, Scheme, Tactic, Verdict, Word, against
from plays.core.motion.pace import Pace
from plays.core.play import Play, Role

DRAWS: Final = 256
BETWEEN: Final = (5.0, 50.0, 95.0)  # per cent of the draws: nine in ten lie within
HOW: Final = How(step=0.04, points=16, curves=0)  # coarser: an error far below any range


@dataclass(frozen=True, slots=True)
class Band:
    """One look over all draws: ``median`` margin and the interval that holds nine in ten.

    ``open``, ``contested``, ``covered`` and ``late`` are shares of the draws; late is a look
    that is gone by its turn, or never there.
    """

    look: str
    median: float
    low: float
    high: float
    open: float
    contested: float
    covered: float
    late: float
    word: Word

    def to_json(self) -> dict[str, Any]:
        numbers = ("median", "low", "high", "open", "contested", "covered", "late")
        return {
            "look": self.look,
            "word": self.word.value,
            **{name: round(getattr(self, name), 3) for name in numbers},
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Band:
        return cls(**{**data, "word": Word(data["word"])})


def bands(
    play: Play,
    tactic: Tactic | Scheme,
    base: Pace,
    paces: Mapping[Role, Pace] | None = None,
    factors: Sequence[Mapping[str, float]] | None = None,
) -> tuple[Band, ...]:
    """The band of every look; ``paces`` are off by as much as ``base``."""
    factors = factors if factors is not None else draws(DRAWS)
    drawn = verdicts_at(play, tactic, Constants(base), paces or {}, factors)
    return tuple(band_of(verdicts) for verdicts in zip(*drawn, strict=True))


def verdicts_at(
    play: Play,
    tactic: Tactic | Scheme,
    constants: Constants,
    paces: Mapping[Role, Pace],
    factors: Sequence[Mapping[str, float]],
) -> list[tuple[Verdict, ...]]:
    """The verdicts on all looks, once for each set of factors.

    Looks in a rotation that is kept for another look than the first come last.
    """
    cases = [constants.off_by(each) for each in factors]
    groups = [
        lines_of(play, case.pace, {role: scaled(pace, each) for role, pace in paces.items()})
        for case, each in zip(cases, factors, strict=True)
    ]
    lines = [line for group in groups for line, _ in group]
    stances = [case.guarding for case, group in zip(cases, groups, strict=True) for _ in group]
    return by_play(against(lines, [tactic] * len(lines), stances, HOW), groups)


def band_of(verdicts: Sequence[Verdict]) -> Band:
    low, median, high = np.percentile([verdict.margin for verdict in verdicts], BETWEEN)
    words = [verdict.word for verdict in verdicts]

    def share(*which: Word) -> float:
        return sum(word in which for word in words) / len(words)

    late = max((Word.PAST, Word.NOT_YET), key=words.count)
    band = Band(
        look=verdicts[0].look,
        median=float(median),
        low=float(low),
        high=float(high),
        open=share(Word.OPEN),
        contested=share(Word.CONTESTED),
        covered=share(Word.COVERED),
        late=share(Word.PAST, Word.NOT_YET),
        word=late,
    )
    return replace(band, word=_word(band, late))


def _word(band: Band, late: Word) -> Word:
    """Open in half of the draws, else contested or better in half, unless it comes too late."""
    if band.late > 0.5:
        return late
    if band.open >= 0.5:
        return Word.OPEN
    return Word.CONTESTED if band.open + band.contested >= 0.5 else Word.COVERED
