"""Reading the fields of a tap: each kind of field once, with what is wrong with it in words."""

from __future__ import annotations

from datetime import datetime
from typing import Final, TypeGuard

from plays.core.play import ROLES, Role, role_of
from practice.core.reps.rep import Id, as_cast
from shared.core.days import bearable_moment
from shared.core.finding import Finding, Severity
from shared.core.language import N_, Language

LONGEST_ID: Final = 64
LONGEST_CALL: Final = 60  # as in a play's document
LARGEST: Final = 2**63 - 1  # of the key of a row
NOT_A_TAP: Final = N_("This entry is no tap.")
MISSING: Final = N_("“{field}” is missing.")
BAD_ID: Final = N_("“{field}” is no id.")
BAD_TIME: Final = N_("“{field}” is no time with its zone.")
BAD_CHOICE: Final = N_("“{value}” is none of {choices}.")
BAD_CAST: Final = N_("“cast” must name a player for roles 1 to 5.")
BAD_CALL: Final = N_("“call” is no call of a play.")
BAD_CLEAN: Final = N_("“clean” must be true or false.")
BAD_NUMBER: Final = N_("“{field}” is no whole number from {least} to {most}.")


class EntryReader:
    """Reads the fields of one entry and gathers every fault of it."""

    def __init__(self, entry: object, place: str, language: Language) -> None:
        self.entry = entry if isinstance(entry, dict) else {}
        self.place = place
        self.language = language
        self.findings: list[Finding] = []
        if not isinstance(entry, dict):
            self.fault("not_a_tap", "", language.say(NOT_A_TAP))

    def fault(self, code: str, field: str, sentence: str) -> None:
        place = f"{self.place}/{field}" if field else self.place
        self.findings.append(serious(code, place, sentence))

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

    def number(self, field: str, least: int, most: int) -> int | None:
        """A whole number within these bounds, or None where nobody said."""
        value = self.entry.get(field)
        if value is None:
            return None
        if isinstance(value, int) and not isinstance(value, bool) and least <= value <= most:
            return value
        said = self.language.say(BAD_NUMBER, field=field, least=least, most=most)
        self.fault("bad_number", field, said)
        return None

    def maybe_choice(self, field: str, choices: tuple[str, ...]) -> str | None:
        """One of these, or None where nobody said."""
        return None if self.entry.get(field) is None else self.choice(field, choices)


def serious(code: str, place: str, sentence: str) -> Finding:
    """A fault of one entry, at its place in the document."""
    return Finding(code, Severity.SERIOUS, place, sentence)


def _is_id(value: object) -> TypeGuard[Id]:
    if isinstance(value, str):
        return 0 < len(value) <= LONGEST_ID and value.isprintable()
    return isinstance(value, int) and not isinstance(value, bool) and abs(value) <= LARGEST


def _is_call(text: str) -> bool:
    return len(text) <= LONGEST_CALL and (not text or text.isprintable())


def _shown(value: object) -> str:
    """The beginning of what somebody sent, as a page can show it."""
    text = str(value)[:LONGEST_ID]
    return "".join(letter if letter.isprintable() else "?" for letter in text)


def _is_cast(value: object) -> TypeGuard[dict[Role, Id]]:
    if not isinstance(value, dict) or not value:
        return False
    return set(value) <= set(ROLES) and all(_is_id(who) for who in value.values())
