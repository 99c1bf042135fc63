"""Who may see and change the library: the whole staff reads, keepers write."""

from __future__ import annotations

from plays.models import Play
from shared.access import one_of, require
from shared.models import User


def play_for(user: User, key: str) -> Play:
    """A play with its current revision. Drafts are for keepers; Http404 for everybody else."""
    rows = Play.objects.select_related("current")
    if not user.may_edit_library:
        rows = rows.filter(current__isnull=False)
    return one_of(rows, key=key)


def kept_play_for(user: User, key: str) -> Play:
    """A play to change. Raises Http404 or PermissionDenied."""
    play = play_for(user, key)
    require(user.may_edit_library)
    return play
