"""Adding to the library: plays, drafts, published revisions. Nothing is ever overwritten."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone

from plays.core.play import Play as PlayValue
from plays.models import Play, Revision
from shared.models import User
from shared.record import note_change


@transaction.atomic
def add_play(value: PlayValue, user: User | None, *, note: str = "") -> Play:
    """A new play with its first revision, published. Raises IntegrityError on a known key."""
    play = Play(key=value.key)
    play.describe_from(value)
    play.save()
    publish(save_draft(play, value, user, note=note), user)
    return play


@transaction.atomic
def save_draft(play: Play, value: PlayValue, user: User | None, *, note: str = "") -> Revision:
    """The play's one draft, holding this value: made, or taken over if there is one."""
    draft = play.revisions.filter(published_at=None).first()
    if draft is None:
        last = play.revisions.order_by("-number").values_list("number", flat=True).first() or 0
        draft = Revision(play=play, number=last + 1)
    fresh = Revision.from_value(value)
    draft.document, draft.content_hash = fresh.document, fresh.content_hash
    draft.author, draft.note = user, note
    draft.save()
    return draft


@transaction.atomic
def publish(draft: Revision, user: User | None) -> Revision:
    """Freeze a draft and make it the play's current revision. Published ones are left alone."""
    if draft.published_at is not None:
        return draft
    draft.published_at = timezone.now()
    draft.save(update_fields=["published_at"])
    play = draft.play
    play.current = draft
    play.describe_from(draft.value())
    play.save()
    note_change(user, "published", draft, after=draft.content_hash)
    return draft
