"""Writing the record of changes."""

from __future__ import annotations

from typing import Any

from shared.models import Change, User


def note_change(
    user: User | None,
    verb: str,
    subject: object,
    *,
    team: int | None = None,
    before: Any = None,
    after: Any = None,
) -> Change:
    """Write one line: call it inside the transaction that makes the change."""
    return Change.objects.create(
        user=user, verb=verb, subject=str(subject)[:120], team=team, before=before, after=after
    )
