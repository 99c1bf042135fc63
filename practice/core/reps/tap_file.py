"""Reading taps: from a phone's request, or from the file in which a phone hands them over.

``read_taps`` reads what it can and lists what it cannot, each with its place in the
document: one spoilt tap never costs the good ones.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from plays.core.defence.stance import Tactic
from practice.core.reps.called import (
    LAST_PERIOD,
    LONGEST_CLOCK,
    MOST_POINTS,
    SEEN,
    CalledPlay,
    CallResult,
    Take,
)
from practice.core.reps.log import Tap
from practice.core.reps.rep import Mode, Rep, Slip, Undo
from practice.core.reps.tap_reader import BAD_CLEAN, MISSING, EntryReader, serious
from shared.core.finding import Finding
from shared.core.language import N_, Language

NO_JSON: Final = N_("This is no file of waiting reps: it cannot be read as JSON.")
NO_LIST: Final = N_("This is no file of waiting reps: it has no list of taps.")


@dataclass(frozen=True, slots=True)
class TapsRead:
    taps: tuple[Tap, ...]
    findings: tuple[Finding, ...]


def read_taps(data: bytes | str | Mapping[str, object], language: Language) -> TapsRead:
    """The taps of a file or a request, and a finding for each fault."""
    document = _document(data)
    if document is None:
        return TapsRead((), (serious("no_json", "", language.say(NO_JSON)),))
    entries = document.get("taps")
    if not isinstance(entries, list):
        return TapsRead((), (serious("no_list", "/taps", language.say(NO_LIST)),))
    taps, findings = [], []
    for index, entry in enumerate(entries):
        reader = _TapReader(entry, f"/taps/{index}", language)
        tap = reader.tap()
        if tap is not None and not reader.findings:
            taps.append(tap)
        findings += reader.findings
    return TapsRead(tuple(taps), tuple(findings))


def _document(data: bytes | str | Mapping[str, object]) -> Mapping[str, object] | None:
    if isinstance(data, Mapping):
        return data
    try:
        document = json.loads(data, parse_int=_whole)
    except (ValueError, RecursionError):
        return None
    return document if isinstance(document, dict) else None


def _whole(digits: str) -> int | float:
    """A number of the document; one beyond every id is no whole number, and so no id."""
    return int(digits) if len(digits) < 20 else float(digits)


class _TapReader(EntryReader):
    """Reads one entry as the tap that it is."""

    def tap(self) -> Tap | None:
        if self.findings:
            return None
        kind = self.choice("kind", ("rep", "undo", "called"))
        if kind is None:
            return None
        if kind == "called":
            return self.called()
        return self.undo() if kind == "undo" else self.rep()

    def undo(self) -> Undo | None:
        key, rep, at = self.text("id"), self.text("rep"), self.moment("at")
        by = self.maybe_id("by")
        return Undo(key, rep, at, by) if at is not None else None

    def rep(self) -> Rep | None:
        key, at = self.text("id"), self.moment("at")
        practice, play = self.id_("practice"), self.id_("play")
        mode = self.choice("mode", tuple(Mode))
        cast = self.cast()
        clean = self.entry.get("clean")
        if not isinstance(clean, bool):
            self.fault("bad_clean", "clean", self.language.say(BAD_CLEAN))
        erred = self.role("erred")
        slip = self.choice("slip", tuple(Slip)) if self.entry.get("slip") is not None else None
        unit, by, revision = (self.maybe_id(name) for name in ("unit", "by", "revision"))
        if at is None or mode is None:
            return None
        return Rep(
            key,
            practice,
            play,
            Mode(mode),
            at,
            cast,
            clean is True,
            erred,
            None if slip is None else Slip(slip),
            unit,
            by,
            revision,
            self.call(),
        )

    def called(self) -> CalledPlay | None:
        key, at = self.text("id"), self.moment("at")
        game, play = self.id_("game"), self.id_("play")
        taken = self.choice("taken", tuple(Take))
        result = self.choice("result", tuple(CallResult))
        defence = self.maybe_choice("defence", SEEN)
        look = self.text("look") if taken == Take.LOOK else None
        points = self.number("points", 0, MOST_POINTS)
        if result == CallResult.POINTS and self.entry.get("points") is None:
            self.fault("missing", "points", self.language.say(MISSING, field="points"))
        cast = self.cast() if self.entry.get("cast") else ()
        period = self.number("period", 1, LAST_PERIOD)
        clock = self.number("clock", 0, LONGEST_CLOCK)
        erred = self.role("erred") if taken == Take.BROKEN else None
        by, revision = self.maybe_id("by"), self.maybe_id("revision")
        if at is None or taken is None or result is None:
            return None
        return CalledPlay(
            key,
            game,
            play,
            at,
            Take(taken),
            CallResult(result),
            None if defence is None else Tactic(defence),
            look,
            points if result in (CallResult.POINTS, CallResult.FOUL) else None,
            cast,
            erred,
            period,
            clock,
            by,
            revision,
            self.call(),
        )
