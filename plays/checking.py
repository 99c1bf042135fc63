"""Having the check of the whole library reckoned in the background, whoever changed what.

Results are missing after a play was published or brought in, and after an update of the site.
``begin`` is called where that happens; a page that sees something missing calls ``keep_up``, so
that a worker which ended too early has a successor.
"""

from __future__ import annotations

from datetime import timedelta
from typing import Final

from django.db import transaction
from django.utils import timezone

from plays.models import Checking
from shared.worker import launch, look_after

PAUSE: Final = timedelta(seconds=30)  # a page waits so long before it asks for another run


@transaction.atomic(savepoint=False)
def begin() -> None:
    """Start a worker that reckons what is missing, unless one is at it."""
    running = Checking.objects.filter(state=Checking.State.RUNNING).first()
    if running is not None and look_after(running).is_running:
        return
    Checking.objects.bulk_create([Checking()], ignore_conflicts=True)  # another may be quicker
    for fresh in Checking.objects.filter(state=Checking.State.RUNNING, starts=0):
        launch(fresh)
    Checking.objects.exclude(state=Checking.State.RUNNING).delete()


def keep_up() -> None:
    """The same for a page that is read: at most one run in ``PAUSE``, should a run fail."""
    latest = Checking.objects.first()
    ended = latest is not None and not latest.is_running
    if latest is None or not ended or timezone.now() - latest.beat_at > PAUSE:
        begin()
