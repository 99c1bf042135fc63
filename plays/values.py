"""Plays as the core computes with them, read once for each content: reading takes milliseconds."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock

from plays.core.play import Play
from plays.models import Revision

KEPT = 400  # plays; a few kilobytes each

_kept: OrderedDict[str, Play] = OrderedDict()
_lock = Lock()


def play_value(revision: Revision) -> Play:
    """The play that a revision holds. The same content gives the same frozen value."""
    key = revision.content_hash
    with _lock:
        found = _kept.get(key)
        if found is not None:
            _kept.move_to_end(key)
            return found
    value = revision.value()
    with _lock:
        _kept[key] = value
        while len(_kept) > KEPT:
            _kept.popitem(last=False)
    return value
