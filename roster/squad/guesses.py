"""Guesses of personal links are slowed: after some wrong ones an address waits a while."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Final

from django.db import transaction
from django.db.models import F
from django.utils.crypto import salted_hmac

from roster.models import WrongLinks

GUESSES: Final = 20  # wrong links from one address, after which new phones wait there
PAUSE: Final = timedelta(minutes=15)


def guessed_too_often(address: str, now: datetime) -> bool:
    """A hall shares one address: phones that have opened their link never come to this."""
    rows = WrongLinks.objects.filter(address=_hashed(address), since__gt=now - PAUSE)
    return rows.filter(tries__gte=GUESSES).exists()


def count_guess(address: str, now: datetime) -> None:
    """One more wrong link from an address; counts whose time is up are forgotten."""
    with transaction.atomic():
        WrongLinks.objects.filter(since__lte=now - PAUSE).delete()
        row, _ = WrongLinks.objects.get_or_create(address=_hashed(address), defaults={"since": now})
        WrongLinks.objects.filter(pk=row.pk).update(tries=F("tries") + 1)


def _hashed(address: str) -> str:
    return salted_hmac("wrong links", address, algorithm="sha256").hexdigest()
