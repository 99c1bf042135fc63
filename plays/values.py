"""Plays as the core computes with them, read once in a process for each state of a revision.

Pages load revisions without their documents; a document is fetched only for a play that this
process has not read yet.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable
from threading import Lock

from plays.core.document.file import read_own
from plays.core.play import Play
from plays.models import Revision

KEPT = 400  # plays; a few kilobytes each

State = tuple[int, str]  # of a revision: which one, and its content

_kept: OrderedDict[State, Play] = OrderedDict()
_lock = Lock()


def play_value(revision: Revision) -> Play:
    """The play that a revision holds. The same state gives the same frozen value."""
    found = _known(_state(revision))
    return found if found is not None else _keep(_state(revision), revision.value())


def read_ahead(revisions: Iterable[Revision]) -> None:
    """Have the plays of all these at hand: one query where any is new to this process."""
    wanted = {row.pk: _state(row) for row in revisions if _known(_state(row)) is None}
    if not wanted:
        return
    rows = Revision.objects.filter(pk__in=wanted).order_by()
    for pk, content, document in rows.values_list("pk", "content_hash", "document"):
        _keep((pk, content), read_own(document))


def _state(revision: Revision) -> State:
    return revision.pk, revision.content_hash


def _known(state: State) -> Play | None:
    with _lock:
        found = _kept.get(state)
        if found is not None:
            _kept.move_to_end(state)
        return found


def _keep(state: State, value: Play) -> Play:
    with _lock:
        _kept[state] = value
        while len(_kept) > KEPT:
            _kept.popitem(last=False)
    return value
