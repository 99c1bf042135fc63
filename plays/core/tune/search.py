"""The search: which few changes raise the worst look most, within the limits.

From the play as it is, the best single change is made, and then the next, until none helps;
then pairs of promising ones; then it is shaken, by chance from a seed, and climbs again from
there. All versions near are weighed quickly, the best of them firmly, over several draws of the
uncertain numbers: only that counts. It stops after so much work, never by a clock: the same
question has the same answer on every machine. A version with a serious finding or a warning
that the play did not have is no version.
"""

from __future__ import annotations

from collections import Counter as Tally
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from itertools import combinations
from typing import Final

import numpy as np

from plays.core.check.check import check
from plays.core.document.form import problems
from plays.core.play import AgeGroup, Play
from plays.core.tune.calls import TunedCall
from plays.core.tune.changes import Change, Plan, Shift, Subject, applied, with_change, without
from plays.core.tune.options import Options, crowded
from plays.core.tune.worth import PROOF, WORTHLESS, Firm, Judge, Verdicts, costs
from shared.core.finding import Severity

BUDGET: Final = 1600  # versions weighed quickly, or as much work
AT_ONCE: Final = 32  # versions judged together
A_CHECK: Final = 4  # versions that cost as much as one whole check
TRIED: Final = 6  # versions near, the best by the quick weighing, that are weighed firmly
PROMISING: Final = 8  # single changes of which pairs are tried
SHAKEN: Final = 3  # changes by which a shake differs
SLACK: Final = 0.05  # seconds by which the quick weighing may be wrong
MORE: Final = 1e-6
OF_LOOKS: Final = ("look_covered", "nothing_open", "guess_high", "counter_idle")
ALIKE: Final = {"count_tight": "count_over"}
NOTHING: Final = float("-inf")

Tell = Callable[[float], bool]  # the share done; False to stop


class StoppedError(Exception):
    """Told to stop, or all the work that was granted is done."""


@dataclass(frozen=True, slots=True)
class Found:
    """The best plan, with what the play was worth and what it is worth with it, changes paid
    for, and the work done."""

    plan: Plan
    before: float
    after: float
    spent: int
    stopped: bool = False


@dataclass(slots=True)
class Search:
    """One search; ``run`` it once. ``tell`` hears the share done after every piece of work.

    ``document`` is a play, of which ``call`` is tuned, as in ``TunedCall``; the choices are those
    of the play as that call runs it.
    """

    document: Play
    age: AgeGroup
    choices: Options
    judge: Judge
    budget: int = BUDGET
    seed: int = 0
    tell: Tell = lambda _share: True
    call: int = 0
    spent: int = 0
    quick: dict[Plan, float] = field(default_factory=dict)
    firm: dict[Plan, float] = field(default_factory=dict)
    first: Verdicts = ()
    was: Firm = WORTHLESS
    others: tuple[Firm, ...] = ()  # what the play's other calls were worth
    faults: Tally[tuple[object, ...]] = field(default_factory=Tally)
    best: Plan = ()
    tuned: TunedCall = field(init=False)
    play: Play = field(init=False)  # as the call that is tuned runs it

    def __post_init__(self) -> None:
        self.tuned = TunedCall(self.document, self.call)
        self.play = self.tuned.play

    def run(self) -> Found:
        """Raises ValueError for a play whose cues go round in a circle."""
        self.begin()
        stopped = False
        try:
            self._all()
        except StoppedError:
            stopped = self.spent < self.budget
        return Found(self.best, self.firm[()], self.firm[self.best], self.spent, stopped)

    def begin(self) -> None:
        """Weigh the play as it is. Raises ValueError as ``run`` does."""
        (first,) = self.judge.judged([self.play])
        if first is None:
            raise ValueError("a play whose cues go round in a circle cannot be tuned")
        self.first, self.quick[()] = first, self.judge.looks_worth(first)
        self.was = self.judge.firm(self.play)
        self.firm[()] = self.was.worth
        self.others = self._beside(())
        self.faults = self._faults(self.document)

    def weighed(self, plan: Plan) -> float:
        """What one plan is worth, changes paid for; nothing where it is no version."""
        self._weigh([plan])
        return self._firmly(plan) if self.quick[plan] > NOTHING else NOTHING

    def _all(self) -> None:
        chance = np.random.default_rng(self.seed)
        self._climb(())
        while self.choices:
            before = self.spent
            self._climb(self._shaken(self.best, chance))
            if self.spent == before:
                self._pay(1)  # everything near is known: shaking is work too

    def _climb(self, plan: Plan) -> None:
        """Up from here by the best change, then by pairs, until nothing helps."""
        here = self.weighed(plan)
        while True:
            self._note(plan)
            near = self._near(plan)
            up = self._up(near, plan, here) or self._up(self._pairs(plan, near), plan, here)
            if up is None:
                return
            plan, here = up, self.firm[up]

    def _up(self, plans: Sequence[Plan], plan: Plan, here: float) -> Plan | None:
        """The best that is better than here, firmly weighed."""
        self._weigh(plans)
        least = self.quick[plan] - SLACK
        tried = [each for each in self._ranked(plans) if self.quick[each] > least][:TRIED]
        best = max(tried, key=self._firmly, default=None)
        return best if best is not None and self._firmly(best) > here + MORE else None

    def _ranked(self, plans: Iterable[Plan]) -> list[Plan]:
        return sorted(dict.fromkeys(plans), key=lambda plan: (-self.quick[plan], repr(plan)))

    def _near(self, plan: Plan) -> list[Plan]:
        """One change away: a shift by one step or back, another wait, a change taken back."""
        found = [without(plan, each.subject) for each in plan]
        held = {each.subject: each for each in plan}
        for subject, changes in self.choices.items():
            found += [
                with_change(plan, change)
                for change in changes
                if change != held.get(subject) and _next_to(change, held.get(subject))
            ]
        return found

    def _pairs(self, plan: Plan, near: Sequence[Plan]) -> list[Plan]:
        """Two promising changes together, of different subjects."""
        held = set(plan)
        singles = [
            change
            for each in self._ranked(near)[:PROMISING]
            for change in each
            if change not in held
        ]
        return [
            with_change(with_change(plan, one), other)
            for one, other in combinations(dict.fromkeys(singles), 2)
            if one.subject != other.subject
        ]

    def _shaken(self, plan: Plan, chance: np.random.Generator) -> Plan:
        subjects: list[Subject] = sorted(self.choices)
        for place in chance.permutation(len(subjects))[:SHAKEN]:
            subject = subjects[int(place)]
            here: Sequence[Change | None] = (None, *self.choices[subject])
            change = here[int(chance.integers(len(here)))]
            plan = without(plan, subject) if change is None else with_change(plan, change)
        return plan

    def _weigh(self, plans: Iterable[Plan]) -> None:
        """Quickly, each that is not known yet; nothing for what spoils a look or crowds."""
        fresh = [plan for plan in dict.fromkeys(plans) if plan not in self.quick]
        for k in range(0, len(fresh), AT_ONCE):
            batch = fresh[k : k + AT_ONCE]
            versions = [applied(self.play, plan) for plan in batch]
            judged = self.judge.judged(versions)
            for plan, version, found in zip(batch, versions, judged, strict=True):
                self.quick[plan] = self._quickly(plan, version, found)
            self._pay(len(batch))

    def _quickly(self, plan: Plan, version: Play, found: Verdicts | None) -> float:
        if found is None or crowded(self.play, version) or self.judge.spoils(self.first, found):
            return NOTHING
        return self.judge.looks_worth(found) - costs(plan)

    def _firmly(self, plan: Plan) -> float:
        """Over all draws; nothing where a look loses or the check finds something new."""
        if plan not in self.firm:
            version = applied(self.play, plan)
            firm = self.judge.firm(version)
            worth = firm.worth - costs(plan)
            good = worth > self.firm[()] and not firm.spoils(self.was)
            sound = good and self._spares_others(plan) and self._sound(self.tuned.written(plan))
            self.firm[plan] = worth if sound else NOTHING
            self._pay(PROOF + (A_CHECK + PROOF * len(self.others)) * good)
        return self.firm[plan]

    def _beside(self, plan: Plan) -> tuple[Firm, ...]:
        return tuple(self.judge.firm(each) for each in self.tuned.beside(plan))

    def _spares_others(self, plan: Plan) -> bool:
        """Whether no look of another call pays for this one."""
        found = zip(self._beside(plan), self.others, strict=True)
        return not any(now.spoils(was) for now, was in found)

    def _note(self, plan: Plan) -> None:
        if self.firm.get(plan, NOTHING) > self.firm[self.best] + MORE:
            self.best = plan

    def _sound(self, version: Play) -> bool:
        """Whether the whole check finds nothing new against it, and its form is sound."""
        return not problems(version) and not self._faults(version) - self.faults

    def _faults(self, play: Play) -> Tally[tuple[object, ...]]:
        """What the check has against it, but for the looks, which are weighed better.

        What is serious counts as a warning too, so that a milder finding is nothing new.
        """
        report = check(play, age=self.age, base=self.judge.base, paces=self.judge.paces)
        return Tally(
            (ALIKE.get(each.code, each.code), rank, each.roles, each.look, each.counter)
            for each in report.findings
            for rank in (Severity.SERIOUS, Severity.WARNING)
            if each.severity.rank <= rank.rank and each.code not in OF_LOOKS
        )

    def _pay(self, work: int) -> None:
        self.spent += work
        going = self.tell(min(self.spent / self.budget, 1.0))
        if not going or self.spent >= self.budget:
            raise StoppedError


def _next_to(change: Change, held: Change | None) -> bool:
    """A shift goes one step at a time, straight or slantwise; a wait changes at will."""
    if not isinstance(change, Shift):
        return True
    right, up = (held.right, held.up) if isinstance(held, Shift) else (0, 0)
    return max(abs(change.right - right), abs(change.up - up)) <= 1
