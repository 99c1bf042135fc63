"""What a check of a practice, a rep or a load found: always a list, never the first one only."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    ERROR = "error"  # cannot be saved like this
    WARNING = "warning"  # can be saved; the coach should know
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found. ``place`` is a JSON pointer into what was checked, "" for the whole."""

    code: str
    severity: Severity
    place: str
    sentence: str
    source: str = ""


def errors(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Those that stop a save."""
    return tuple(found for found in findings if found.severity is Severity.ERROR)
