"""Tuning: what would make this play better, without making it another play?

    asked = TuningQuestion(TuningLimits(start=0.5), AgeGroup.U14, looks=())
    tuned = tune(play, asked, pace_of(AgeGroup.U14))
    for change, effect in zip(tuned.plan, tuned.effects): ...

The worst look against a chase and a switch is raised within the count, by starts, places of
screens and waits. The estimate is that of the check, with all that it leaves out: a proposal to
try in practice, and no promise.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from plays.core.check.bands import DRAWS
from plays.core.motion.pace import Pace
from plays.core.play import AgeGroup, Play, Role
from plays.core.tune.calls import TunedCall
from plays.core.tune.changes import Plan, applied, change_from_json
from plays.core.tune.gain import Compared, Effect, compared, effects
from plays.core.tune.limits import TuningLimits
from plays.core.tune.options import options
from plays.core.tune.search import BUDGET, Search
from plays.core.tune.worth import Judge

SEARCHING: Final = 0.9  # share of the work that is the search; the rest draws the bands


@dataclass(frozen=True, slots=True)
class TuningQuestion:
    """The limits, for whom, the ids of the looks that count (without any, all do), and which of
    the play's calls is tuned: 0 its first, n its n-th variant."""

    limits: TuningLimits
    age: AgeGroup
    looks: tuple[str, ...] = ()
    call: int = 0

    def to_json(self) -> dict[str, Any]:
        return {
            "limits": self.limits.to_json(),
            "age": self.age.value,
            "looks": list(self.looks),
            "call": self.call,
        }

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> TuningQuestion:
        return cls(
            TuningLimits.from_json(data["limits"]),
            AgeGroup(data["age"]),
            tuple(data["looks"]),
            int(data.get("call", 0)),
        )


@dataclass(frozen=True, slots=True)
class Tuned:
    """What was found: an empty plan where nothing within the limits is worth a change.

    ``play`` is the document with it; plan, effects and bands are those of the call that was tuned.
    """

    play: Play
    plan: Plan
    effects: tuple[Effect, ...]
    compared: Compared
    spent: int
    stopped: bool


def tune(
    play: Play,
    asked: TuningQuestion,
    base: Pace,
    paces: Mapping[Role, Pace] | None = None,
    *,
    budget: int = BUDGET,
    drawn: int = DRAWS,
    tell: Callable[[float], bool] = lambda _share: True,
) -> Tuned:
    """Search, then say what was gained. ``tell`` hears the share done, and stops it by False.

    ``budget`` is the work that is granted, ``drawn`` the draws of the bands; drawn defenders are
    left out. Raises ValueError for a play whose cues go round in a circle, IndexError for a call
    that it does not have.
    """
    document = replace(play, defenders=())
    floor = TunedCall(document, asked.call).play
    looks = tuple(look.id for look in play.looks if not asked.looks or look.id in asked.looks)
    judge = Judge(base, paces or {}, looks)
    search = Search(
        document,
        asked.age,
        options(floor, asked.limits),
        judge,
        budget,
        tell=lambda share: tell(SEARCHING * share),
        call=asked.call,
    )
    found = search.run()
    plan, told = found.plan, compared(floor, applied(floor, found.plan), judge, drawn)
    if plan and not told.gain.clear:
        plan, told = (), compared(floor, floor, judge, drawn)
    return Tuned(
        play=TunedCall(play, asked.call).written(plan),
        plan=plan,
        effects=effects(floor, plan, judge),
        compared=told,
        spent=found.spent,
        stopped=found.stopped,
    )


def plan_from_json(data: list[Mapping[str, Any]]) -> Plan:
    return tuple(change_from_json(each) for each in data)
