"""The one kind of finding: its order of severity, and what stops a save."""

from __future__ import annotations

from shared.core.finding import Finding, Severity, errors


def test_only_what_is_serious_stops_a_save() -> None:
    found = [Finding(each.value, each, "/blocks/0", "Something.") for each in Severity]
    assert [each.code for each in errors(found)] == ["serious"]


def test_the_worst_ranks_first() -> None:
    assert [each.rank for each in (Severity.SERIOUS, Severity.WARNING, Severity.NOTE)] == [0, 1, 2]
