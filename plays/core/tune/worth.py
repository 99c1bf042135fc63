"""What a play is worth to tuning: its looks against a chase and a switch, the worst first.

A play is weighed with the constants as the table has them, which is quick, and firmly with
several sets of them off at once: what holds at one point only is no gain.

Seconds. A look is worth its margin at its turn, no more than what already makes it open, and
far less where it is not there in its turn or the count is over. Every change costs a little, so
that nobody is moved for nothing.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import compress
from statistics import fmean as mean
from typing import Final

from plays.core.check.after import by_play, lines_of
from plays.core.defence.uncertain import Constants, draws, scaled
from plays.core.defence.verdict import OPEN, How, Tactic, Verdict, Word, against
from plays.core.motion.pace import Pace
from plays.core.play import Play, Role
from plays.core.sequence.circles import circles
from plays.core.tune.changes import Change, Plan, Shift

TACTICS: Final = (Tactic.CHASE, Tactic.SWITCH)
HOW: Final = How(step=0.04, points=16, curves=0)  # as the bands are drawn
PROOF: Final = 16  # draws
LOSS: Final = 0.03  # seconds that a look may lose for the sake of a worse one; ours
MISSED: Final = 0.5  # seconds that a look which is not there is worth less than a covered one
OTHERS: Final = 0.5  # what each look counts beside the one that is worse by one place; ours
CHANGE: Final = 0.02  # seconds of gain below which a change is not worth teaching; ours
FURTHER: Final = 0.04  # the same for each metre of a shift
BY_COUNT: Final = 0.02  # and for a wait that has to be counted
RANKS: Final = {Word.OPEN: 2, Word.CONTESTED: 1}

Verdicts = tuple[tuple[Verdict, ...], ...]  # of each of TACTICS, of each look


@dataclass(frozen=True, slots=True)
class Firm:
    """Means over the draws: of all looks that count, of the worst, and of every look."""

    worth: float
    worst: float
    looks: tuple[float, ...]

    def spoils(self, before: Firm) -> bool:
        """Whether the worst look lost anything, or any look, counting or not, more than a bit."""
        pairs = zip(self.looks, before.looks, strict=True)
        lost = any(now < was - LOSS for now, was in pairs)
        return lost or self.worst < before.worst - 1e-6


WORTHLESS: Final = Firm(float("-inf"), float("-inf"), ())


@dataclass(frozen=True, slots=True)
class Judge:
    """Judges many versions of a play at once. ``looks`` are the ids of those that count."""

    base: Pace
    paces: Mapping[Role, Pace]
    looks: Collection[str]

    def judged(self, plays: Sequence[Play]) -> list[Verdicts | None]:
        """The verdicts on each, as the table has it; None where its cues go round in a circle."""
        return [None if found is None else found[0] for found in self.over(plays, [{}])]

    def firm(self, play: Play) -> Firm:
        """What its looks are worth over ``PROOF`` draws; nothing where its cues go in a circle."""
        (found,) = self.over([play], proof())
        if found is None:
            return WORTHLESS
        sums = [self.looks_worth(verdicts) for verdicts in found]
        worst = [self.worst(verdicts) for verdicts in found]
        single = zip(*(_by_look(verdicts) for verdicts in found), strict=True)
        return Firm(mean(sums), mean(worst), tuple(mean(values) for values in single))

    def over(
        self, plays: Sequence[Play], factors: Sequence[Mapping[str, float]]
    ) -> list[list[Verdicts] | None]:
        """The verdicts on each play at each set of factors, all marched together."""
        sound = [not circles(play) for play in plays]
        cases = [Constants(self.base).off_by(each) for each in factors]
        groups = [
            lines_of(play, case.pace, {role: scaled(p, each) for role, p in self.paces.items()})
            for play in compress(plays, sound)
            for case, each in zip(cases, factors, strict=True)
        ]
        if not groups:
            return [None] * len(plays)
        guardings = [
            case.guarding
            for case, group in zip(cases * sum(sound), groups, strict=True)
            for _ in group
        ]
        lines = [line for group in groups for line, _ in group]
        tactics = [tactic for tactic in TACTICS for _ in lines]
        marched = against(lines * len(TACTICS), tactics, guardings * len(TACTICS), HOW)
        found = by_play(marched, groups * len(TACTICS))
        rows = [tuple(found[k :: len(groups)]) for k in range(len(groups))]
        of_play = iter(rows[k : k + len(cases)] for k in range(0, len(rows), len(cases)))
        return [next(of_play) if is_sound else None for is_sound in sound]

    def worst(self, verdicts: Verdicts) -> float:
        """What the worst look is worth against the tactic that is worse for it."""
        return min(self._values(verdicts), default=0.0)

    def looks_worth(self, verdicts: Verdicts) -> float:
        """The worst look, the next at half, and so on."""
        values = sorted(self._values(verdicts))
        return sum(OTHERS**place * value for place, value in enumerate(values))

    def spoils(self, before: Verdicts, after: Verdicts) -> bool:
        """Whether the worst look got worse, or any look, counting or not, lost its word."""
        ranks = (
            RANKS.get(new.word, 0) < RANKS.get(old.word, 0)
            for was, now in zip(before, after, strict=True)
            for old, new in zip(was, now, strict=True)
        )
        return any(ranks) or self.worst(after) < self.worst(before) - 1e-9

    def _values(self, verdicts: Verdicts) -> Iterator[float]:
        for verdict, worth in zip(verdicts[0], _by_look(verdicts), strict=True):
            if verdict.look in self.looks:
                yield worth


def _by_look(verdicts: Verdicts) -> list[float]:
    """What each look is worth against the tactic that is worse for it."""
    return [min(value(each) for each in of_look) for of_look in zip(*verdicts, strict=True)]


@cache
def proof() -> list[Mapping[str, float]]:
    """The draws over which a version is weighed firmly."""
    return draws(PROOF)


def value(verdict: Verdict) -> float:
    """What one look is worth against one tactic."""
    if verdict.in_time:
        return min(verdict.margin, OPEN)
    window = verdict.window
    late = max(window.in_turn, window.earliest) - window.latest
    return min(verdict.margin, 0.0) - MISSED - max(late, 0.0)


def cost(change: Change) -> float:
    """What a change has to bring in at least."""
    if isinstance(change, Shift):
        return CHANGE + FURTHER * change.metres
    counted = sum(cue.wait for cue in change.cues) > 0.0
    return CHANGE + BY_COUNT * counted


def costs(plan: Plan) -> float:
    """What all changes of a plan have to bring in."""
    return sum(cost(change) for change in plan)
