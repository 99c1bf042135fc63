"""Writing the record of changes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from shared.models import Change, User


def change(
    user: User | None,
    verb: str,
    subject: object,
    *,
    team: int | None = None,
    before: Any = None,
    after: Any = None,
) -> Change:
    """One line, not written yet."""
    return Change(
        user=user, verb=verb, subject=str(subject)[:120], team=team, before=before, after=after
    )


def note_change(user: User | None, verb: str, subject: object, **facts: Any) -> Change:
    """Write one line: call it inside the transaction that makes the change."""
    made = change(user, verb, subject, **facts)
    made.save(force_insert=True)
    return made


def note_changes(lines: Sequence[Change]) -> None:
    """Write all of these at once, likewise."""
    Change.objects.bulk_create(lines)
