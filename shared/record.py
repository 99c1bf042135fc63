"""Writing the record of changes, and the two doors by which a line of it is ever touched again.

A line is written once. A person who is erased, or renamed, is replaced by other words in what the
lines say (``reword``), and a team that is deleted takes its lines along (``forget_team``); who did
what and when is changed by nobody.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from django.db import models

from shared.models import Change, User
from shared.verbs import VERBS


def change(
    user: User | None,
    verb: str,
    subject: object,
    *,
    team: int | None = None,
    before: Any = None,
    after: Any = None,
) -> Change:
    """One line, not written yet. Raises KeyError on a verb that no sentence tells."""
    VERBS[verb]
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


def reword(team: int, swap: Callable[[str], str]) -> None:
    """Put other words for a person into every line of a team; who, what and when stay."""
    changed = []
    for row in Change.objects.filter(team=team).iterator(500):
        new = swap(row.subject), swapped(row.before, swap), swapped(row.after, swap)
        if new != (row.subject, row.before, row.after):
            row.subject, row.before, row.after = new
            changed.append(row)
    _unguarded().bulk_update(changed, ["subject", "before", "after"], batch_size=500)


def forget_team(team: int) -> None:
    """Take out the lines of a team that is deleted: they name its people."""
    _unguarded().filter(team=team).delete()


def _unguarded() -> models.Manager[Change]:
    return Change._base_manager  # noqa: SLF001 - documented, and used here alone


def swapped(value: Any, swap: Callable[[str], str]) -> Any:
    """A value of JSON with the words replaced in all its texts."""
    match value:
        case str():
            return swap(value)
        case list():
            return [swapped(each, swap) for each in value]
        case dict():
            return {swap(key): swapped(each, swap) for key, each in value.items()}
        case _:
            return value
