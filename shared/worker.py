"""Work that outlives a request: a process of its own that keeps a beat in a row, which pages read.

A feature keeps a table made from ``Work`` and names the function that works; ``launch`` starts
the process, ``look_after`` is what a page asks before it shows the row. A worker that was killed
is noticed by its missing beat: it is started again, once, and then reported as failed. Every
start has a number, and one that is no longer the last can write nothing into the row: a worker
that was only asleep does not speak over its successor.
"""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Mapping
from datetime import timedelta
from typing import Any, ClassVar, Final, Self, TypeVar

from django.conf import settings
from django.db import InterfaceError, OperationalError, connection, models, transaction
from django.db.models import F
from django.utils import timezone
from django.utils.module_loading import import_string
from django.utils.translation import gettext_lazy as _

from shared.core.language import N_

BEAT: Final = 1.0  # seconds
SILENT: Final = timedelta(seconds=20)  # this long without a beat means dead
MOST_STARTS: Final = 2
KILLED: Final = N_("The work in the background broke off twice. All is as it was; start it again.")
Facts = Mapping[str, object]


class WorkError(Exception):
    """The work cannot be done, for a reason that people understand; its text goes in the row."""


class Work(models.Model):
    """What a worker was asked and how far it is; a subclass adds both, and says who works.

    ``state`` may get more values than these in a subclass: they are ends, like DONE.
    """

    class State(models.TextChoices):
        RUNNING = "running", _("Running")
        DONE = "done", _("Done")
        CANCELLED = "cancelled", _("Cancelled")
        FAILED = "failed", _("Failed")

    # "app.package.module.function": takes the row and a Pulse, gives what goes into the row.
    worker: ClassVar[str]
    # Seconds that a worker has to bring home what it found after it is told to stop.
    grace: ClassVar[float] = 6.0

    state = models.CharField(max_length=10, choices=State, default=State.RUNNING)
    beat_at = models.DateTimeField(default=timezone.now)
    stop_asked = models.BooleanField(default=False)
    starts = models.PositiveSmallIntegerField(default=0)
    fault = models.CharField(max_length=200, blank=True)

    class Meta:
        abstract = True

    @classmethod
    def rows(cls) -> models.QuerySet[Self]:
        return cls._default_manager.all()

    @property
    def table(self) -> str:
        return self._meta.label

    @property
    def is_running(self) -> bool:
        return bool(self.state == Work.State.RUNNING)

    @property
    def is_silent(self) -> bool:
        """No beat for long; a beat of the future was written before the clock was set back."""
        return abs(timezone.now() - self.beat_at) > SILENT

    def update(self, **facts: object) -> bool:
        """Write facts and a beat; False where the row has ended, gone, or has a later worker."""
        rows = self.rows().filter(pk=self.pk, starts=self.starts, state=Work.State.RUNNING)
        return bool(rows.update(**{"beat_at": timezone.now(), **facts}))

    def read_again(self) -> Self:
        return self.rows().get(pk=self.pk)


Row = TypeVar("Row", bound=Work)


def launch(work: Work) -> None:
    """Start a worker for a saved row once the transaction holds; never waits for it."""
    rows = work.rows().filter(pk=work.pk, starts=work.starts)
    if rows.update(starts=F("starts") + 1, beat_at=timezone.now()):
        work.starts += 1
        transaction.on_commit(lambda: spawn(work))


def look_after(work: Row) -> Row:
    """The row as it is, after its worker was started again or given up if it fell silent."""
    if not (work.is_running and work.is_silent):
        return work
    if work.stop_asked:
        work.update(state=Work.State.CANCELLED)
    elif work.starts < MOST_STARTS:
        launch(work)
    else:
        work.update(state=Work.State.FAILED, fault=KILLED)
    return work.read_again()


def spawn(work: Work) -> None:
    """The process itself; it outlives the request, and the server too."""
    subprocess.Popen(
        [sys.executable, "-m", "django", "work", work.table, str(work.pk), str(work.starts)],
        cwd=settings.ROOT,
        env=os.environ | {"COACHBOOK_DATA": str(settings.DATA)},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )


def perform(work: Work, leave: Callable[[int], object] | None = None) -> None:
    """Do the work of a row, in the process that calls.

    ``leave`` ends a process that hears no stop within its grace. An error that is not a
    WorkError is a bug: it is written down for the page and raised.
    """
    pulse = Pulse(work, leave)
    pulse.start()
    try:
        facts = import_string(work.worker)(work, pulse)
    except WorkError as error:
        pulse.end()
        work.update(state=Work.State.FAILED, fault=str(error)[:200])
    except Exception as error:
        pulse.end()
        work.update(state=Work.State.FAILED, fault=str(error)[:200])
        raise
    else:
        pulse.end()
        ended = Work.State.CANCELLED if pulse.stopped else Work.State.DONE
        work.update(**{"state": ended, **facts})


class Pulse(threading.Thread):
    """Keeps the row fresh while the work is busy, and hears when it is told to stop."""

    def __init__(self, work: Work, leave: Callable[[int], object] | None = None) -> None:
        super().__init__(daemon=True)
        self.work, self.leave = work, leave
        self.stopped = False
        self._ended = threading.Event()
        self._facts: dict[str, Any] = {}

    def report(self, **facts: object) -> bool:
        """What the next beat writes into the row; False when the work is to stop."""
        self._facts = {**self._facts, **facts}
        return not self.stopped

    def run(self) -> None:
        stopped_at: float | None = None
        while not self._ended.wait(BEAT):
            try:
                self._beat()
            except (OperationalError, InterfaceError):  # busy or restarted: the next beat tells it
                connection.close()
                continue
            if self.stopped:
                stopped_at = stopped_at or time.monotonic()
                if self.leave and time.monotonic() - stopped_at >= self.work.grace:
                    self.work.update(state=Work.State.CANCELLED)
                    self.leave(0)
        connection.close()

    def end(self) -> None:
        """Beat no more, and write what was reported last."""
        self._ended.set()
        self.join()
        self.work.update(**self._facts)

    def _beat(self) -> None:
        rows = self.work.rows().filter(pk=self.work.pk, stop_asked=True)
        alive = self.work.update(**self._facts)
        self.stopped = self.stopped or not alive or rows.exists()
