"""Who may see and change the library: the whole staff reads, keepers write."""

from __future__ import annotations

from django.http import Http404

from plays.models import Play, Revision
from shared.access import one_of, require
from shared.models import User


def play_for(user: User, key: str) -> Play:
    """A play with its current revision. Drafts are for keepers; Http404 for everybody else."""
    rows = Play.objects.with_current()
    if not user.may_edit_library:
        rows = rows.filter(current__isnull=False)
    return one_of(rows, key=key)


def kept_play_for(user: User, key: str) -> Play:
    """A play to change. Raises Http404 or PermissionDenied."""
    play = play_for(user, key)
    require(user.may_edit_library)
    return play


def revision_for(user: User, play: Play, number: int | None = None) -> Revision:
    """One revision of a play, or without a number the current one, before that the draft.

    A draft is for keepers; Http404 for everybody else.
    """
    if number is None and play.current is not None:
        return play.current
    rows = play.revisions.select_related("author").defer("document")
    if not user.may_edit_library:
        rows = rows.exclude(published_at=None)
    if number is not None:
        return one_of(rows, number=number)
    draft = rows.first()
    if draft is None:
        raise Http404
    return draft
