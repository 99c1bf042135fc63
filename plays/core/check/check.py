"""The check: can this play be run, by this age group, against this defence?

    report = check(play, age=AgeGroup.U14, defence=Tactic.SWITCH)
    for finding in report.findings: print(finding.sentence, finding.remedy)

It runs the clock, the defence and every kind of finding. It leaves out deception, skill and
contact: a finding is a reason to look again, not a verdict on the play.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from plays.core.check.after import further_ways
from plays.core.check.count import count_findings
from plays.core.check.counters import (
    counter_findings,
    counter_verdict,
    own_findings,
)
from plays.core.check.finding import PlayFinding
from plays.core.check.last_shot import last_shot_findings
from plays.core.check.live import live_findings
from plays.core.check.looks import look_findings, order_findings
from plays.core.check.remedy import Fix, apply_remedy
from plays.core.check.report import Report, look_to_json
from plays.core.check.rules import rule_findings
from plays.core.check.screens import screen_findings
from plays.core.check.space import space_findings
from plays.core.check.throws import throw_findings
from plays.core.check.variants import found_by_call
from plays.core.court.courts import court
from plays.core.court.rules import live_rules, screen_rules, throw_in_rules
from plays.core.defence.verdict import How, Scheme, Tactic, Verdict, against, scheme_of
from plays.core.motion.clock import timeline
from plays.core.motion.pace import EFFORT, Pace, pace_of
from plays.core.motion.timeline import Timeline
from plays.core.moves.variants import calls_apart
from plays.core.play import AgeGroup, Play, Role, RuleSet
from plays.core.sequence.after_look import way_with
from plays.core.sequence.course import with_counter
from plays.core.words.speaker import Voice
from shared.core.finding import Severity
from shared.core.language import ENGLISH, N_, Language

LEFT_OUT: Final = N_(
    "The check knows running, throwing and reaction times. It knows nothing of fakes, "
    "skill, contact or nerves, and of the defence only what is said here."
)

CHASE: Final = Scheme(Tactic.CHASE)


def check(
    play: Play,
    *,
    age: AgeGroup,
    effort: float = EFFORT,
    defence: Tactic | Scheme = Tactic.CHASE,
    rule_set: RuleSet | None = None,
    paces: Mapping[Role, Pace] | None = None,
    base: Pace | None = None,
    language: Language = ENGLISH,
    names: Mapping[Role, str] | None = None,
) -> Report:
    """Run everything once. ``rule_set`` is the play's court's unless given.

    ``base`` takes the place of the age group's row, ``paces`` of it for single roles. The play
    must be free of problems of form: raises CueCycleError for a circle of cues, KeyError for a
    role without a start.
    """
    pace = base if base is not None else pace_of(age, effort)
    cases = [_Case(each, age, pace, paces, [defence]) for each in calls_apart(play)]
    voice = Voice(language, names or {})
    judged = _judge(cases, How(curves=1))
    (report,) = _covering(play, cases, judged, rule_set or play.court, voice)
    return report


def check_many(
    play: Play,
    *,
    ages: Sequence[AgeGroup],
    defences: Sequence[Tactic],
    effort: float = EFFORT,
    rule_set: RuleSet | None = None,
    language: Language = ENGLISH,
) -> dict[tuple[AgeGroup, Tactic], Report]:
    """``check`` for every pair of age group and defence, at little more than the cost of one.

    Looks are judged at their turn only: these verdicts have no curve over their window.
    """
    calls = calls_apart(play)
    paces = {age: pace_of(age, effort) for age in ages}
    cases = [_Case(each, age, paces[age], None, defences) for age in ages for each in calls]
    judged = _judge(cases, How(curves=0))
    rules, voice = rule_set or play.court, Voice(language)
    return {
        (report.age, report.defence): report
        for n in range(0, len(cases), len(calls))
        for report in _covering(
            play, cases[n : n + len(calls)], judged[n : n + len(calls)], rules, voice
        )
    }


class _Case:
    """A play at one pace: its timeline, those of its counters, and the defences to judge by."""

    def __init__(
        self,
        play: Play,
        age: AgeGroup,
        pace: Pace,
        paces: Mapping[Role, Pace] | None,
        defences: Sequence[Tactic | Scheme],
    ) -> None:
        self.play, self.age, self.pace = play, age, pace
        self.defences = [scheme_of(each) for each in defences]
        self.line = timeline(play, pace, paces)
        counters = [way_with(with_counter(play, each), each.from_phase) for each in play.counters]
        self.branches = [timeline(each, pace, paces) for each in counters]
        self.needed = [Scheme(Tactic(each.defence.value), each.whose) for each in play.counters]
        self.schemes = list(dict.fromkeys([*self.defences, CHASE, *self.needed]))
        self.ways = further_ways(play)
        self.further = [timeline(way.play, pace, paces) for way in self.ways]

    @property
    def lines(self) -> list[tuple[Timeline, Scheme]]:
        """What is judged: the play by every scheme, its counters, and its further ways."""
        plain = [(self.line, scheme) for scheme in self.schemes]
        own = [way.with_own(line) for way, line in zip(self.ways, self.further, strict=True)]
        further = [(line, scheme) for scheme in self.defences for line in own]
        return [*plain, *zip(self.branches, self.needed, strict=True), *further]


Judged = list[tuple[Verdict, ...]]


def _judge(cases: Sequence[_Case], how: How) -> list[Judged]:
    """The verdicts on the lines of each case, in their order, all marched together."""
    pairs = [pair for case in cases for pair in case.lines]
    lines, schemes = [line for line, _ in pairs], [scheme for _, scheme in pairs]
    verdicts = iter(against(lines, schemes, how=how))
    return [[next(verdicts) for _ in case.lines] for case in cases]


def _covering(
    play: Play, cases: Sequence[_Case], judged: Sequence[Judged], rules: RuleSet, voice: Voice
) -> Iterator[Report]:
    """The reports by the play's first call, with what is found by its other calls alone."""
    by_call = [
        list(_reports(case, verdicts, rules, voice))
        for case, verdicts in zip(cases, judged, strict=True)
    ]
    for first, *others in zip(*by_call, strict=True):
        found = {other.play.call: other.findings for other in others}
        more = found_by_call(first.findings, found)
        findings = tuple(sorted((*first.findings, *more), key=_rank))
        yield replace(first, play=play, findings=findings)


def _reports(case: _Case, judged: Judged, rule_set: RuleSet, voice: Voice) -> Iterator[Report]:
    play, line = case.play, case.line
    own = dict(zip(case.schemes, judged, strict=False))
    rest = iter(judged[len(case.schemes) :])
    given = [next(rest) for _ in case.needed]
    counters = tuple(
        counter_verdict(counter, own[CHASE], own[scheme], verdicts)
        for counter, scheme, verdicts in zip(play.counters, case.needed, given, strict=True)
    )
    common = (*_of_all_ways(case, rule_set, voice), *counter_findings(play, counters, voice))
    for defence in case.defences:
        verdicts = own[defence]
        findings = [*common, *look_findings(line, defence.tactic, verdicts, voice)]
        for way, further in zip(case.ways, case.further, strict=True):
            more = way.verdicts(next(rest))
            findings += way.own(look_findings(further, defence.tactic, more, voice))
            verdicts += more
        yield Report(
            play=play,
            age=case.age,
            effort=case.pace.effort,
            defence=defence.tactic,
            rule_set=rule_set,
            line=line,
            verdicts=tuple(sorted(verdicts, key=lambda verdict: verdict.window.index)),
            counters=counters,
            findings=tuple(sorted((_placed(play, f) for f in findings), key=_rank)),
            further=tuple(zip(case.ways, case.further, strict=True)),
        )


def _of_all_ways(case: _Case, rule_set: RuleSet, voice: Voice) -> Iterator[PlayFinding]:
    """What is found against any defence: in the play, its counters and its further ways."""
    yield from _common(case.line, rule_set, voice)
    for counter, branch in zip(case.play.counters, case.branches, strict=True):
        found = own_findings(counter, _common(branch, rule_set, voice))
        yield from (_placed(branch.play, finding) for finding in found)
    for way, further in zip(case.ways, case.further, strict=True):
        yield from way.own(_common(further, rule_set, voice))


def _common(line: Timeline, rule_set: RuleSet, voice: Voice) -> Iterator[PlayFinding]:
    """What does not depend on the defence chosen."""
    rules, floor = throw_in_rules(rule_set), court(line.play.court)
    yield from count_findings(line, rules, voice)
    yield from screen_findings(line, floor, screen_rules(rule_set), voice)
    yield from space_findings(line, voice)
    yield from throw_findings(line, voice)
    yield from rule_findings(line, floor, rules, voice)
    yield from live_findings(line, floor, live_rules(rule_set), voice)
    yield from order_findings(line, voice)
    yield from last_shot_findings(line, voice)


def _placed(play: Play, finding: PlayFinding) -> PlayFinding:
    """With the phase of its action filled in."""
    if finding.phase is not None or finding.action is None:
        return finding
    phase = next(
        (p.id for p in play.phases if any(a.id == finding.action for a in p.actions)), None
    )
    return replace(finding, phase=phase)


def _rank(finding: PlayFinding) -> tuple[int, float, str]:
    when = finding.when if finding.when is not None else 99.0
    return finding.severity.rank, round(when, 6), finding.code


__all__ = [
    "Fix",
    "PlayFinding",
    "Report",
    "Severity",
    "Tactic",
    "apply_remedy",
    "check",
    "check_many",
    "look_to_json",
]
