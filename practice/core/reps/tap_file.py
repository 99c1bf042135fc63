"""Reading taps: from a phone's request, or from the file in which a phone hands them over.

``read_taps`` reads what it can and lists what it cannot, each with its place in the
document: one spoilt tap never costs the good ones.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Final, TypeGuard

from plays.core.play import ROLES, Role, role_of
from practice.core.reps.rep import Id, Mode, Rep, Slip, Tap, Undo, as_cast
from shared.core.days import bearable_moment
from shared.core.finding import Finding, Severity
from shared.core.language import N_, Language

LONGEST_ID: Final = 64

LONGEST_CALL: Final = 60  # as in a play's document

LARGEST: Final = 2**63 - 1  # of the key of a row

NO_JSON: Final = N_("This is no file of waiting reps: it cannot be read as JSON.")
NO_LIST: Final = N_("This is no file of waiting reps: it has no list of taps.")
NOT_A_TAP: Final = N_("This entry is no tap.")
MISSING: Final = N_("“{field}” is missing.")
BAD_ID: Final = N_("“{field}” is no id.")
BAD_TIME: Final = N_("“{field}” is no time with its zone.")
BAD_CHOICE: Final = N_("“{value}” is none of {choices}.")
BAD_CAST: Final = N_("“cast” must name a player for roles 1 to 5.")
BAD_CALL: Final = N_("“call” is no call of a play.")
BAD_CLEAN: Final = N_("“clean” must be true or false.")


@dataclass(frozen=True, slots=True)
class TapsRead:
    taps: tuple[Tap, ...]
    findings: tuple[Finding, ...]


def read_taps(data: bytes | str | Mapping[str, object], language: Language) -> TapsRead:
    """The taps of a file or a request, and a finding for each fault."""
    document = _document(data)
    if document is None:
        return TapsRead((), (_error("no_json", "", language.say(NO_JSON)),))
    entries = document.get("taps")
    if not isinstance(entries, list):
        return TapsRead((), (_error("no_list", "/taps", language.say(NO_LIST)),))
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


def _error(code: str, place: str, sentence: str) -> Finding:
    return Finding(code, Severity.SERIOUS, place, sentence)


def _is_id(value: object) -> TypeGuard[Id]:
    if isinstance(value, str):
        return 0 < len(value) <= LONGEST_ID and value.isprintable()
    return isinstance(value, int) and not isinstance(value, bool) and abs(value) <= LARGEST


def _is_call(text: str) -> bool:
    return len(text) <= LONGEST_CALL and (not text or text.isprintable())


def _whole(digits: str) -> int | float:
    """A number of the document; one beyond every id is no whole number, and so no id."""
    return int(digits) if len(digits) < 20 else float(digits)


def _shown(value: object) -> str:
    """The beginning of what somebody sent, as a page can show it."""
    text = str(value)[:LONGEST_ID]
    return "".join(letter if letter.isprintable() else "?" for letter in text)


def _is_cast(value: object) -> TypeGuard[dict[Role, Id]]:
    if not isinstance(value, dict) or not value:
        return False
    return set(value) <= set(ROLES) and all(_is_id(who) for who in value.values())


class _TapReader:
    """Reads one entry and gathers every fault of it."""

    def __init__(self, entry: object, place: str, language: Language) -> None:
        self.entry = entry if isinstance(entry, dict) else {}
        self.place = place
        self.language = language
        self.findings: list[Finding] = []
        if not isinstance(entry, dict):
            self.fault("not_a_tap", "", language.say(NOT_A_TAP))

    def fault(self, code: str, field: str, sentence: str) -> None:
        place = f"{self.place}/{field}" if field else self.place
        self.findings.append(_error(code, place, sentence))

    def tap(self) -> Tap | None:
        if self.findings:
            return None
        kind = self.choice("kind", ("rep", "undo"))
        if kind is None:
            return None
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

    def text(self, field: str) -> str:
        value = self.entry.get(field)
        if _is_id(value) and isinstance(value, str):
            return value
        self._bad_id(field, value)
        return ""

    def id_(self, field: str) -> Id:
        value = self.entry.get(field)
        if _is_id(value):
            return value
        self._bad_id(field, value)
        return ""

    def maybe_id(self, field: str) -> Id | None:
        return None if self.entry.get(field) is None else self.id_(field)

    def _bad_id(self, field: str, value: object) -> None:
        if value is None:
            self.fault("missing", field, self.language.say(MISSING, field=field))
        else:
            self.fault("bad_id", field, self.language.say(BAD_ID, field=field))

    def moment(self, field: str) -> datetime | None:
        """A moment as the phone's clock had it; at the ends of the calendar a bearable one.

        Whether the clock was right is asked later: a wrong time is no reason to lose a rep.
        """
        value = self.entry.get(field)
        try:
            moment = datetime.fromisoformat(value) if isinstance(value, str) else None
        except ValueError:
            moment = None
        if moment is None or moment.utcoffset() is None:
            self.fault("bad_time", field, self.language.say(BAD_TIME, field=field))
            return None
        return bearable_moment(moment)

    def choice(self, field: str, choices: tuple[str, ...]) -> str | None:
        value = self.entry.get(field)
        if isinstance(value, str) and value in choices:
            return value
        shown = self.language.any_of([str(choice) for choice in choices])
        self.fault(
            "bad_choice",
            field,
            self.language.say(BAD_CHOICE, value=_shown(value), choices=shown),
        )
        return None

    def role(self, field: str) -> Role | None:
        value = self.entry.get(field)
        if value is None:
            return None
        role = role_of(value)
        if role is None:
            self.choice(field, ROLES)
        return role

    def call(self) -> str | None:
        """Which call was run; phones of an older edition do not say."""
        value = self.entry.get("call")
        if value is None or (isinstance(value, str) and _is_call(value)):
            return value
        self.fault("bad_call", "call", self.language.say(BAD_CALL))
        return None

    def cast(self) -> tuple[tuple[Role, Id], ...]:
        value = self.entry.get("cast")
        if not _is_cast(value):
            self.fault("bad_cast", "cast", self.language.say(BAD_CAST))
            return ()
        return as_cast(value)
