"""Links by which somebody without an account reads a play, or the whole shelf, until a day."""

from __future__ import annotations

from datetime import timedelta
from typing import Final

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from plays.models import Play, SharedPlay
from shared.links import new_nonce, nonce_of, token_of
from shared.models import Club, User
from shared.record import note_change

PURPOSE: Final = "shared"
LASTS: Final = timedelta(days=90)


def open_links(play: Play | None) -> QuerySet[SharedPlay]:
    """The links of a play, or of the shelf, that open something now, the latest first."""
    now = timezone.now()
    return SharedPlay.objects.filter(play=play, withdrawn_at=None, opens_until__gt=now)


@transaction.atomic
def share(play: Play | None, user: User) -> SharedPlay:
    """Make a link to a play, or to the whole shelf."""
    made = SharedPlay.objects.create(
        play=play, nonce=new_nonce(), made_by=user, opens_until=timezone.now() + LASTS
    )
    note_change(user, "shared", play or Club.objects.get())
    return made


@transaction.atomic
def withdraw(play: Play | None, pk: int, user: User) -> bool:
    """Close a link; whether it was open."""
    closed = open_links(play).filter(pk=pk).update(withdrawn_at=timezone.now())
    if closed:
        note_change(user, "withdrew shared", play or Club.objects.get())
    return bool(closed)


def token(link: SharedPlay) -> str:
    """What stands in the address of a link."""
    return token_of(link.nonce, PURPOSE)


def link_behind(said: str) -> SharedPlay | None:
    """The link of an address; None for one that is forged, withdrawn, or over."""
    nonce = nonce_of(said, PURPOSE)
    found = SharedPlay.objects.select_related("play").filter(nonce=nonce).first()
    if nonce is None or found is None or found.withdrawn_at is not None:
        return None
    return found if timezone.now() < found.opens_until else None


def plays_behind(link: SharedPlay) -> QuerySet[Play]:
    """The published plays that a link opens: never a draft, never one that is put away."""
    shelf = Play.objects.on_shelf().with_current()
    return shelf if link.play_id is None else shelf.filter(pk=link.play_id)
