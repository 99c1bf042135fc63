"""A better plan in the background, with its distance from the best.

First parts of the instant plan, drawn by chance from a seed, are undone and filled again: in a
second or two that finds nearly all there is. An interior point method then bounds what any plan
is worth; only where that leaves a gap an integer programme looks at the whole, and after it at a
few plays or practices at a time.

Strength is linear in the practices' terms, a term is concave in the reps, and readiness is a
logistic of the logarithm of strength: convex at its foot and concave above. The programme
replaces both curves by pieces that never lie *below* them, so that its bound is a bound for the
true worth too, and the gap reported is the true gap: (bound - worth) / bound.

HiGHS (in scipy) takes no starting plan and cannot be stopped inside a call: run ``improve``
in a worker process. It reports often, stops between two steps when told to, and may be ended
at any time, because it changes nothing outside.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Final, Literal

import numpy as np

from practice.core.install.build import model
from practice.core.install.getting_ready import aimed
from practice.core.install.greedy import filled
from practice.core.install.model import Flags, Indices, Model, as_schedule, worth
from practice.core.install.programme import Around, Programme
from practice.core.install.question import Ask, Schedule
from practice.core.install.rework import TIE, drawn_part, instant_reps, refilled
from shared.core.milp import relaxed

Stage = Literal["instant", "reworked", "bounded", "whole", "parts", "done"]
PART_SECONDS: Final = 3.0
PLAYS_AT_ONCE: Final = 3
PRACTICES_AT_ONCE: Final = 2
# Shares of the time, by when a stage ends at the latest: our choice.
ENDS: Final[dict[Stage, float]] = {"reworked": 0.3, "whole": 0.65, "parts": 1.0}
FRUITLESS: Final = 300  # drawn parts in a row that better nothing, after which no more are drawn
ROUNDING: Final = 1e-6  # what the interior point may be off by


@dataclass(frozen=True, slots=True)
class ImproveProgress:
    """Where the improvement stands; ``share`` of the time from 0 to 1."""

    stage: Stage
    share: float
    worth: float
    bound: float


@dataclass(frozen=True, slots=True)
class Improved:
    """The better plan, and how good it can be told to be.

    No plan is worth more than ``bound``; ``gap`` is the share by which this plan may fall
    short of the best, None where nothing is to be gained;
    ``approximation`` by how much the programme's pieces overrate it. ``improved`` is False where
    the instant plan was kept, ``proved`` is True where the gap asked for was reached.
    """

    schedule: Schedule
    instant: Schedule
    bound: float
    gap: float | None
    approximation: float
    improved: bool
    proved: bool


def improve(
    ask: Ask,
    seconds: float,
    clock: Callable[[], float],
    report: Callable[[ImproveProgress], bool] = lambda _: True,
    *,
    relative_gap: float = 0.01,
    seed: int = 0,
) -> Improved:
    """Improve for about ``seconds``; never worse than the instant plan. ``seed`` is for the draws.

    ``report`` hears of every step; when it answers False the best plan so far is returned.
    ``clock`` gives seconds, such as ``time.perf_counter``. Raises NothingToPlanError.
    """
    search = _PlanSearch(aimed(model(ask)), seconds, clock, report, relative_gap)
    search.run(np.random.default_rng(seed))
    return search.improvement()


class _PlanSearch:
    """The best plan so far by exact worth, and the lowest bound."""

    def __init__(
        self,
        model_: Model,
        seconds: float,
        clock: Callable[[], float],
        report: Callable[[ImproveProgress], bool],
        relative_gap: float,
    ) -> None:
        self.model, self.seconds, self.report = model_, seconds, report
        self.relative_gap, self.clock = relative_gap, clock
        self.began = clock()
        self.reps = instant_reps(model_)
        self.worth = worth(model_, self.reps)
        self.instant = as_schedule(model_, self.reps)
        self.programme = Programme(model_)
        self.bound = self.programme.loosest
        self.stage: Stage = "instant"
        self.stopped = False

    def run(self, chance: np.random.Generator) -> None:
        steps: dict[Stage, Callable[[], None]] = {
            "instant": partial(self.rework, chance),
            "reworked": self.relax,
            "bounded": self.solve_whole,
            "whole": self.solve_parts,
        }
        for stage, step in steps.items():
            if not self.goes_on(stage):
                break
            step()
        self.goes_on("done")

    def goes_on(self, stage: Stage) -> bool:
        """Report, and say whether to go on."""
        self.stage = stage
        share = 1.0 if stage == "done" else min(1.0, self.used)
        told = self.report(ImproveProgress(stage, share, self.worth, self.bound))
        self.stopped = self.stopped or not told
        return not (self.stopped or self.proved)

    @property
    def used(self) -> float:
        return (self.clock() - self.began) / max(self.seconds, 1e-9)

    @property
    def gap(self) -> float | None:
        return (self.bound - self.worth) / self.bound if self.bound > 0 else None

    @property
    def proved(self) -> bool:
        return self.gap is None or self.gap <= self.relative_gap

    def rework(self, chance: np.random.Generator) -> None:
        """Undo and fill parts drawn by chance until a good number of them brings nothing."""
        idle = 0
        while idle < FRUITLESS and self.used < ENDS["reworked"] and self.goes_on("reworked"):
            before = self.worth
            self.offer(refilled(self.model, self.reps, *drawn_part(self.model, chance)))
            idle = 0 if self.worth > before else idle + 1

    def relax(self) -> None:
        """A bound for every plan, from the programme in fractions."""
        found = relaxed(self.programme.milp, max(0.1, (ENDS["whole"] - self.used) * self.seconds))
        if found.bound is not None:
            self.lower(self.programme.constant - found.bound + ROUNDING)

    def solve_whole(self) -> None:
        left = max(0.1, (ENDS["whole"] - self.used) * self.seconds)
        found = self.programme.solve(left, self.relative_gap)
        self.lower(found.bound)
        if found.reps is not None:
            self.offer(filled(self.model, found.reps))

    def solve_parts(self) -> None:
        for free in _windows(self.model):
            left = (ENDS["parts"] - self.used) * self.seconds
            if left < PART_SECONDS / 10 or not self.goes_on("parts"):
                return
            around = Around(self.reps, free)
            found = self.programme.solve(min(left, PART_SECONDS), self.relative_gap, around)
            if found.reps is not None:
                self.offer(filled(self.model, found.reps))

    def lower(self, bound: float) -> None:
        self.bound = max(self.worth, min(self.bound, bound))

    def offer(self, reps: Indices) -> None:
        value = worth(self.model, reps)
        if value > self.worth + TIE:
            self.reps, self.worth = reps, value
            self.bound = max(self.bound, value)

    def improvement(self) -> Improved:
        return Improved(
            schedule=as_schedule(self.model, self.reps),
            instant=self.instant,
            bound=self.bound,
            gap=self.gap,
            approximation=max(0.0, self.programme.value_of(self.reps) - self.worth),
            improved=self.worth > self.instant.worth + TIE,
            proved=self.proved,
        )


def _windows(model_: Model) -> Iterator[Flags]:
    """A few plays, then a few practices, round and round, each round with other company."""
    plays, _, _, practices = model_.shape
    for turn in range(plays * practices):
        free = np.zeros(model_.shape, dtype=bool)
        stride = 1 + turn // (plays + practices)
        if turn % 2:
            free[..., [(turn + i * stride) % practices for i in range(PRACTICES_AT_ONCE)]] = True
        else:
            free[[(turn + turn // 2 + i * stride) % plays for i in range(PLAYS_AT_ONCE)]] = True
        yield free
