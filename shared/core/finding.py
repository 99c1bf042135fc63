"""What a check found: one kind of value, whatever was checked; always a list, never one alone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from shared.core.language import N_


class Severity(StrEnum):
    """How bad, the worst first: what is serious cannot be saved, cannot work, or breaks a rule."""

    SERIOUS = "serious"
    WARNING = "warning"  # will often go wrong: people should know, and may go on
    NOTE = "note"

    @property
    def rank(self) -> int:
        """0 for the worst."""
        return list(Severity).index(self)


SEVERITIES: Final[Mapping[Severity, str]] = MappingProxyType(
    {
        Severity.SERIOUS: N_("serious"),
        Severity.WARNING: N_("warning"),
        Severity.NOTE: N_("note"),
    }
)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found; ``code`` names its kind.

    ``place`` is a JSON pointer (RFC 6901) into what was checked, "" for the whole. ``source``
    is what the finding rests on, where that is more than plain sense.
    """

    code: str
    severity: Severity
    place: str
    sentence: str
    source: str = ""


def errors(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Those that stop a save."""
    return tuple(found for found in findings if found.severity is Severity.SERIOUS)
