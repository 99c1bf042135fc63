"""What the check page of a play shows, computed from its document and the setting asked for."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.utils.safestring import SafeString

from plays.check.form import Asked
from plays.check.looks import LookRow, look_row
from plays.core.calls import by_name
from plays.core.check.begun import begun_in
from plays.core.check.check import Report
from plays.core.check.finding import BASES, PlayFinding
from plays.core.check.moments import moments
from plays.core.check.samples import sampled
from plays.core.check.setting import checked, defence_words, line_of
from plays.core.court.courts import court
from plays.core.court.spoken import describe
from plays.core.defence.march import Marking
from plays.core.defence.verdict import marked
from plays.core.drawing.options import Drawing, on_page
from plays.core.drawing.phase import diagram
from plays.core.drawing.stage import Stage, stage
from plays.core.motion.thrown import shown
from plays.core.play import ROLES, Play, Role
from plays.core.sequence.after_look import way_to
from plays.core.sequence.course import run_of, scenes
from plays.core.words.speaker import Voice
from plays.core.words.terms import answered, look_words
from plays.play.page import Figure, after_looks, svg_of
from plays.play.strip import StripView, strip_view
from shared.core.finding import SEVERITIES, Severity
from shared.core.language import Language

HZ = 20.0
MARKS = {Severity.SERIOUS: "bad", Severity.WARNING: "warn", Severity.NOTE: "note"}


@dataclass(frozen=True, slots=True)
class FindingRow:
    """A finding for a page; ``fix`` is the remedy as JSON where it can be applied."""

    finding: PlayFinding
    mark: str
    word: str
    where: str
    basis: str
    fix: str
    counter: str
    call: str  # with the names of whoever is checked, where only another call makes it


@dataclass(frozen=True, slots=True)
class CounterRow:
    """What a counter gives where the play has lost its looks."""

    title: str
    says: str
    against: str
    lost: tuple[str, ...]
    left: tuple[str, ...]
    given: tuple[str, ...]
    given_margin: float | None
    own_margin: float | None
    helps: bool
    has_looks: bool
    id: str


@dataclass(frozen=True, slots=True)
class CheckView:
    """Everything that a check page shows of one check."""

    report: Report
    run: Report
    findings: tuple[FindingRow, ...]
    counts: Mapping[str, int]
    looks: tuple[LookRow, ...]
    counters: tuple[CounterRow, ...]
    figures: tuple[Figure, ...]
    strip: StripView
    stage: SafeString
    stage_data: Mapping[str, str]


def check_view(play: Play, asked: Asked, language: Language) -> CheckView:
    """The check of the play, and of what is run instead where that is asked for. The play must be
    sound."""
    names = asked.carrier.names if asked.carrier else {}
    report = checked(play, asked.setting, language=language, names=names)
    run = report
    other = asked.run(play)
    if other is not play:
        run = checked(other, asked.setting, language=language, names=names)
    shown: dict[str, Any] = {"names": names, "scheme": "page", "language": language}
    marking = marked(run.line, asked.setting.scheme)
    floor = stage(run.line, _begin(marking), **shown)
    strip = strip_view(run.play, run.line, names, language, run)
    strip = replace(strip, further=begun_in(run.further))
    return CheckView(
        report=report,
        run=run,
        findings=tuple(finding_row(finding, run.play, names, language) for finding in run.findings),
        counts=_counts(run),
        looks=tuple(look_row(verdict, None, names, language) for verdict in run.verdicts),
        counters=_counters(report, names, language) if other is play else (),
        figures=_figures(run.play, names, language, strip.numbers),
        strip=strip,
        stage=svg_of(floor.picture, "stage"),
        stage_data=_stage_data(floor),
    )


def motion(play: Play, asked: Asked, language: Language, look: str = "") -> dict[str, Any]:
    """The samples of an animation, with the sentences that go with it; of the play as it is
    written, or as it goes when a look is thrown."""
    run = way_to(run_of(play, asked.counter), look) if look else asked.run(play)
    line = shown(line_of(run, asked.setting), look)
    names = asked.carrier.names if asked.carrier else {}
    told = moments(line, Voice(language, names))
    found = sampled(line, HZ, marked(line, asked.setting.scheme))
    return {**found, "moments": [happening.to_json() for happening in told]}


def finding_row(
    finding: PlayFinding, play: Play, names: Mapping[Role, str], language: Language
) -> FindingRow:
    where = finding.where
    return FindingRow(
        finding,
        MARKS[finding.severity],
        language.say(SEVERITIES[finding.severity]),
        describe(court(play.court), where, language) if where is not None else "",
        language.say(BASES[finding.basis]),
        json.dumps(finding.fix.to_json()) if finding.fix else "",
        _counter_title(play, finding.counter, language),
        by_name(finding.variant or "", names, language),
    )


def _counter_title(play: Play, counter: str | None, language: Language) -> str:
    titles = (answered(each, language) for each in play.counters if each.id == counter)
    return next(titles, "")


def _counters(
    report: Report, names: Mapping[Role, str], language: Language
) -> tuple[CounterRow, ...]:
    own = {look.id: look_words(look, names, language) for look in report.play.looks}
    rows = []
    for counter, verdict in zip(report.play.counters, report.counters, strict=True):
        looks = {v.look: look_words(v.window.look, names, language) for v in verdict.verdicts}
        rows.append(
            CounterRow(
                title=answered(counter, language),
                says=counter.says,
                against=defence_words(verdict.tactic.value, language, counter.whose),
                lost=tuple(own[look] for look in verdict.lost),
                left=tuple(own[look] for look in verdict.own),
                given=tuple(looks[look] for look in verdict.given),
                given_margin=verdict.given_margin,
                own_margin=verdict.own_margin,
                helps=verdict.helps,
                has_looks=bool(counter.looks),
                id=counter.id,
            )
        )
    return tuple(rows)


def _counts(report: Report) -> dict[str, int]:
    found = [finding.severity for finding in report.findings]
    return {severity.value: found.count(severity) for severity in Severity}


def _begin(marking: Marking) -> dict[Role, complex]:
    return {role: complex(marking.places[0, k]) for k, role in enumerate(ROLES)}


def _stage_data(floor: Stage) -> dict[str, str]:
    """How metres become the picture's points, for the script; never with a decimal comma."""
    window = floor.frame
    values = {"left": window.left, "top": window.top, "scale": window.scale}
    return {name: f"{value:.5f}" for name, value in values.items()}


def _figures(
    play: Play, names: Mapping[Role, str], language: Language, numbers: Mapping[str, int]
) -> tuple[Figure, ...]:
    """The phases small, to be lit from the strip; those without a line are left out."""
    floor = {scene.phase.id: scene for scene in scenes(play)}
    after = after_looks(play, language)
    return tuple(
        Figure(
            svg_of(
                diagram(play, phase.id, on_page(Drawing(names=names, numbers=numbers), language)),
                f"check-phase-{number}",
            ),
            phase.title,
            f"phase-{number}",
            rotation=phase.rotation,
            after=after.get(phase.id, ""),
        )
        for number, phase in enumerate(play.phases, start=1)
        if floor[phase.id].legs
    )
