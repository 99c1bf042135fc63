"""Making the database's file forget what was erased, beside the requests.

Rows are gone, and overwritten (``secure_delete``), when the request ends; what the log of writes
and free pages still hold goes by rewriting the file, for which all others have to wait a moment.
"""

from __future__ import annotations

import time
from typing import Final

from django.db import OperationalError, connection

from practice.models import Clearing
from shared.core.language import N_
from shared.worker import Facts, Pulse, WorkError, launch, look_after

BUSY = N_("Somebody was writing all the time.")
TRIES: Final = 30
PAUSE: Final = 2.0  # seconds between two tries, beside what the database itself waits
STATEMENTS: Final = ("PRAGMA secure_delete = ON", "VACUUM")
EMPTY_LOG: Final = "PRAGMA wal_checkpoint(TRUNCATE)"


def begin_clearing() -> None:
    """Clear the file once the transaction holds; the row is written with it and told of."""
    if connection.vendor == "sqlite":
        launch(Clearing.objects.create())


def latest_clearing() -> Clearing | None:
    """What a page tells of. One that failed is begun anew: nobody has to remember it."""
    latest = Clearing.objects.first()
    found = latest and look_after(latest)
    if found and found.state == Clearing.State.FAILED:
        begin_clearing()
    return found


def work(row: Clearing, pulse: Pulse) -> Facts:
    """Rewrite the file and empty the log of writes. Raises WorkError where others never pause."""
    for _ in range(TRIES):
        if pulse.stopped:
            return {}
        if _cleared():
            Clearing.objects.filter(pk__lt=row.pk).exclude(state=Clearing.State.RUNNING).delete()
            return {}
        time.sleep(PAUSE)
    raise WorkError(BUSY)


def _cleared() -> bool:
    """Whether it could be done now: a reader or a writer may stand in the way."""
    if connection.vendor != "sqlite":
        return True
    try:
        with connection.cursor() as cursor:
            for statement in STATEMENTS:
                cursor.execute(statement)
            busy, *_ = cursor.execute(EMPTY_LOG).fetchone()
    except OperationalError:
        return False
    return not busy
