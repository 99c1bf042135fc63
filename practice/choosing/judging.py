"""What the check says of the library's plays to one team: on its court and at its own pace.

The library keeps results for each play on the court it was drawn for, by the table's pace. They
answer at once; the worker judges anew by what the team's own settings are, and the wishes keep
that until the settings, the play or the computing change.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import Any

from plays.check.results import ShelfRow, code_state
from plays.core.check.check import Report, check_many
from plays.core.check.setting import Setting, checked, staged
from plays.core.defence.verdict import Tactic
from plays.core.document.form import problems
from plays.core.motion.team_pace import TeamPace
from plays.core.play import AgeGroup, RuleSet
from plays.core.play import Play as PlayValue
from practice.core.learning.coming import KINDS
from practice.models import PackageWishes
from roster.models import Team


@dataclass(frozen=True, slots=True)
class OwnVerdict:
    """A play against one defence: the margin of its best look that is in time, None without one.

    ``there``: a look is open or contested; ``suits``: besides, nothing speaks seriously against it.
    """

    margin: float | None
    there: bool
    suits: bool

    def to_json(self) -> list[Any]:
        return [self.margin, self.there, self.suits]


NOTHING = OwnVerdict(None, there=False, suits=False)
Verdicts = Mapping[Tactic, OwnVerdict]


def setting_of(team: Team) -> Setting:
    """The team's age group, rule set and own pace; nobody is cast yet, so nobody's own times."""
    return Setting(
        AgeGroup(team.age_group),
        rule_set=RuleSet(team.rule_set),
        pace=TeamPace.from_json(team.pace, {}),
    )


def state_of(team: Team) -> str:
    """What a team's own verdicts depend on, beside the play."""
    facts = code_state(), team.age_group, team.rule_set, sorted(team.pace.items())
    return sha256(repr(facts).encode()).hexdigest()


def own_verdicts(team: Team, wishes: PackageWishes) -> Mapping[str, Verdicts]:
    """The team's own verdicts by content, as far as they are worked out and still hold."""
    if wishes.judged_by != state_of(team):
        return {}
    return {
        content: {Tactic(name): OwnVerdict(*facts) for name, facts in found.items()}
        for content, found in wishes.judged.items()
    }


def library_verdicts(row: ShelfRow, age: str) -> Verdicts | None:
    """What the library keeps of a play; None where a defence is not reckoned yet."""
    kept = {tactic: row.of(age, tactic.value) for tactic in KINDS}
    found = {
        tactic: OwnVerdict(result.margin, result.there > 0, result.suits)
        for tactic, result in kept.items()
        if result is not None
    }
    return found if len(found) == len(KINDS) else None


def judge(play: PlayValue, setting: Setting) -> Verdicts:
    """A play against every defence that a package is judged by, its counters as answers."""
    floor = staged(play, setting)
    if problems(play) or problems(floor):
        return dict.fromkeys(KINDS, NOTHING)
    if not setting.pace.is_own:  # the table's pace: all at once, at the cost of little over one
        found = check_many(floor, ages=(setting.age,), defences=KINDS, rule_set=setting.rule_set)
        return {tactic: _judged(report, tactic) for (_, tactic), report in found.items()}
    return {
        tactic: _judged(checked(play, replace(setting, defence=tactic.value)), tactic)
        for tactic in KINDS
    }


def _judged(report: Report, tactic: Tactic) -> OwnVerdict:
    given = [one for one in report.counters if one.tactic is tactic and one.given]
    margins = [report.best_margin, *(one.given_margin for one in given)]
    best = max((margin for margin in margins if margin is not None), default=None)
    there = bool(given) or any(verdict.there for verdict in report.verdicts)
    return OwnVerdict(best, there, report.runnable and there)


def keep(team: Team, fresh: Mapping[str, Verdicts], shelf: Iterable[str]) -> None:
    """Keep a team's own verdicts, of the plays that are still there."""
    wishes, _ = PackageWishes.objects.get_or_create(team=team)
    known = {**own_verdicts(team, wishes), **fresh}
    wishes.judged = {
        content: {tactic.value: judged.to_json() for tactic, judged in known[content].items()}
        for content in shelf
        if content in known
    }
    wishes.judged_by = state_of(team)
    wishes.save(update_fields=["judged", "judged_by"])


def unjudged(team: Team, wishes: PackageWishes, rows: Sequence[ShelfRow]) -> list[ShelfRow]:
    """The plays that the team's own settings have not been tried on."""
    known = own_verdicts(team, wishes)
    return [row for row in rows if row.play.published().content_hash not in known]
