"""The count strip as plain data: a row for each role, seconds across, the line at five.

What is drawn, and how, is not said here; every bar and mark names the action, look or finding
it belongs to, so that a page can link it with the diagram.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any, Literal

from plays.core.check.check import Report
from plays.core.defence.verdict import Verdict, Word
from plays.core.motion.timeline import Timeline, Window
from plays.core.motion.windows import COUNT
from plays.core.play import ROLES, ActionKind, Defence, Role
from shared.core.finding import Severity

BarKind = Literal["move", "screen", "held", "throw"]
MarkKind = Literal["set", "release", "catch", "finding"]


@dataclass(frozen=True, slots=True)
class ActionBar:
    """Something that lasts: ``move`` on the way, ``held`` standing in a screen, ``throw``."""

    kind: BarKind
    start: float
    end: float
    action: str
    does: str = ""  # the action's kind


@dataclass(frozen=True, slots=True)
class Mark:
    """A moment. ``of`` is an action's or a look's id, or a finding's code."""

    kind: MarkKind
    at: float
    of: str
    severity: str = ""


@dataclass(frozen=True, slots=True)
class LookBar:
    """When a look can be thrown, drawn in the receiver's row; ``word`` is None without a check."""

    look: str
    number: int
    start: float
    end: float
    in_turn: float
    best: float | None
    word: Word | None
    late: bool
    read: Defence | None = None  # what they do then, where the look is thrown by a read


@dataclass(frozen=True, slots=True)
class Row:
    """One role's line of the strip: what it does, what happens, when its looks are there."""

    role: Role
    bars: tuple[ActionBar, ...]
    marks: tuple[Mark, ...]
    looks: tuple[LookBar, ...]


@dataclass(frozen=True, slots=True)
class Strip:
    """``count`` is None for a play without a throw-in; ``until`` is where the time axis ends."""

    rows: tuple[Row, ...]
    signal: float
    count: float | None
    until: float

    def to_json(self) -> dict[str, Any]:
        return asdict(self)


def count_strip(line: Timeline, report: Report | None = None) -> Strip:
    """The strip of a timeline, with verdicts and findings where there is a report."""
    verdicts = {} if report is None else {v.look: v for v in report.verdicts}
    rows = tuple(
        Row(role, _bars(line, role), _marks(line, role, report), _looks(line, role, verdicts))
        for role in ROLES
    )
    counted = line.play.thrower is not None
    return Strip(rows, line.signal, COUNT if counted else None, line.end)


def _bars(line: Timeline, role: Role) -> tuple[ActionBar, ...]:
    mine = [span for span in line.spans.values() if span.role == role]
    bars = []
    for span in mine:
        kind = span.kind.value
        if span.kind in (ActionKind.PASS, ActionKind.HANDOFF):
            bars.append(ActionBar("throw", span.start, span.end, span.action, kind))
            continue
        busy = span.end if span.kind is ActionKind.SHOT else span.arrive  # till the ball is gone
        if busy > span.start:
            way: BarKind = "screen" if span.kind is ActionKind.SCREEN else "move"
            bars.append(ActionBar(way, span.start, busy, span.action, kind))
        if span.set is not None:
            later = [s.start for s in mine if s.start > span.start]
            bars.append(
                ActionBar("held", span.set, min(later, default=line.end), span.action, kind)
            )
    return tuple(bars)


def _marks(line: Timeline, role: Role, report: Report | None) -> tuple[Mark, ...]:
    found = [
        Mark("set", span.set, span.action)
        for span in line.spans.values()
        if span.role == role and span.set is not None
    ]
    for flight in line.flights:
        if flight.passer == role:
            found.append(Mark("release", flight.release, flight.source))
        if flight.receiver == role:
            found.append(Mark("catch", flight.catch, flight.source))
    for finding in () if report is None else report.findings:
        small = finding.severity is Severity.NOTE
        if finding.when is not None and not small and role in finding.roles[:1]:
            found.append(Mark("finding", finding.when, finding.code, finding.severity.value))
    return tuple(sorted(found, key=lambda mark: mark.at))


def _looks(line: Timeline, role: Role, verdicts: dict[str, Verdict]) -> tuple[LookBar, ...]:
    mine = [window for window in line.windows if window.look.receiver == role]
    return tuple(_look(window, verdicts.get(window.look.id)) for window in mine)


def _look(window: Window, verdict: Verdict | None) -> LookBar:
    return LookBar(
        look=window.look.id,
        number=window.index + 1,
        start=window.earliest,
        end=max(window.latest, window.earliest),
        in_turn=window.in_turn,
        best=None if verdict is None else verdict.best,
        word=None if verdict is None else verdict.word,
        late=window.counted and window.earliest > COUNT,
        read=None if window.look.read is None else window.look.read.defence,
    )
