"""Running a proposal beside the requests: a process computes, a thread here writes down its word.

No request waits for either. The row says where the search stands; a row whose beat has stopped
belongs to a server that has ended, and is closed by whoever looks at it next.
"""

from __future__ import annotations

import json
import logging
import pickle
import subprocess
import sys
import threading
from collections.abc import Iterator
from datetime import timedelta
from typing import Any

from django.conf import settings
from django.db import close_old_connections, connection
from django.utils import timezone

from roster.core.casting.question import CastingQuestion
from roster.models import CastProposal

SILENT = timedelta(seconds=30)  # a beat comes every second: this long without one means dead
OVER_TIME = 8.0  # seconds beyond its limit after which a search is ended
WORKER = ("-m", "roster.cast.worker")

State = CastProposal.State
log = logging.getLogger(__name__)


def start(proposal: CastProposal, question: CastingQuestion) -> None:
    """Begin to work on a proposal that is saved as running."""
    thread = threading.Thread(
        target=_run, args=(proposal.pk, question, proposal.limit), name=f"cast-{proposal.pk}"
    )
    thread.daemon = True
    thread.start()


def close_silent(team: int) -> None:
    """Say of a search that has died with its server that it has."""
    dead = CastProposal.objects.filter(
        team=team, state=State.RUNNING, beat_at__lt=timezone.now() - SILENT
    )
    dead.update(state=State.FAILED)


def _run(pk: int, question: CastingQuestion, limit: float) -> None:
    row = CastProposal.objects.filter(pk=pk, state=State.RUNNING)
    try:
        for message in _said_by_child(question, limit):
            close_old_connections()
            row.update(beat_at=timezone.now(), **_kept(message))
            if row.filter(stop_asked=True).update(state=State.CANCELLED):
                return
        row.update(state=State.FAILED)  # an answer has changed the state before this
    except Exception:
        log.exception("the search for cast proposal %s failed", pk)
        row.update(state=State.FAILED)
    finally:
        connection.close()


def _said_by_child(question: CastingQuestion, limit: float) -> Iterator[dict[str, Any]]:
    """Everything that the process says, until it ends; it never outlives this generator."""
    child = subprocess.Popen(
        [sys.executable, *WORKER], cwd=settings.ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE
    )
    assert child.stdin is not None
    assert child.stdout is not None
    began = timezone.now()
    try:
        with child.stdin as pipe:
            pickle.dump((question, limit), pipe)
        for line in child.stdout:
            yield json.loads(line)
            if (timezone.now() - began).total_seconds() > limit + OVER_TIME:
                break
    finally:
        child.kill()
        child.stdout.close()
        child.wait()


def _kept(message: dict[str, Any]) -> dict[str, Any]:
    """What of a message goes into the row."""
    if message["kind"] == "beat":
        return {}
    kept = {"answer": message["cast"], "value": message["value"], "bound": message["bound"]}
    if message["kind"] == "progress":
        return {**kept, "stage": message["stage"], "seconds": message["seconds"]}
    conflict = {"conflict": message["conflict"], "ending": message["ending"]}
    return {**kept, **conflict, "state": State.DONE}
