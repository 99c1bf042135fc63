"""Improving an install plan in a process of its own, so that no request waits.

The state lives in a row: the page reads it, the worker writes it. A worker that dies leaves
nothing behind but a row that falls silent, and the page says so. A plan that was changed
meanwhile is never overwritten.
"""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from datetime import timedelta
from typing import Final

from django.conf import settings
from django.db import connection, transaction
from django.utils import timezone

from practice.core.install.build import NothingToPlanError
from practice.core.install.improve import Improvement as Made
from practice.core.install.improve import Progress, improve
from practice.install.plan import entries_of, question, take_over
from practice.models import Improvement, ImproveState, InstallPlan

SILENT: Final = timedelta(seconds=20)  # then the worker is taken for dead
HEARTBEAT: Final = 1.0  # seconds
GRACE: Final = 6.0  # seconds that a stopped worker has to bring its best plan home
GOING: Final = (ImproveState.WAITING, ImproveState.RUNNING)


@transaction.atomic
def begin(plan: InstallPlan, seconds: int) -> tuple[Improvement, bool]:
    """A new run, or the one that is going; True where it is new and has to be launched."""
    latest = plan.improvements.first()
    if latest is not None and is_going(latest):
        return latest, False
    plan.improvements.filter(state__in=GOING).update(state=ImproveState.FAILED)
    made = Improvement.objects.create(plan=plan, of_version=plan.version, seconds=seconds)
    return made, True


def is_going(run: Improvement) -> bool:
    return run.state in GOING and timezone.now() - run.heard_at < SILENT


def launch(run: Improvement) -> None:
    """Start the worker process; it outlives the request, and the server too."""
    environment = os.environ | {"COACHBOOK_DATA": str(settings.DATA)}
    subprocess.Popen(
        [sys.executable, "-m", "django", "improve", str(run.pk)],
        cwd=settings.ROOT,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )


def work(run: Improvement, leave: Callable[[int], object] | None = None) -> None:
    """Do one run, in the process that calls. ``leave`` ends a process that hears no stop."""
    tell(run, state=ImproveState.RUNNING)
    pulse = _Pulse(run, leave)
    pulse.start()
    try:
        asked = question(run.plan.game, timezone.now(), entries_of(run.plan, locked=True))
        made = improve(asked.ask, float(run.seconds), time.perf_counter, pulse.report)
    except NothingToPlanError:
        pulse.end()
        tell(run, state=ImproveState.FAILED, fault="nothing to plan")
    except Exception as error:
        pulse.end()
        tell(run, state=ImproveState.FAILED, fault=str(error)[:200])
        raise
    else:
        pulse.end()
        _bring_home(run, made, stopped=pulse.stopped)


def _bring_home(run: Improvement, made: Made, *, stopped: bool) -> None:
    run.refresh_from_db()
    ended = ImproveState.CANCELLED if stopped else ImproveState.DONE
    # A plan that coaches have bettered since, or that was the better one, stays.
    told = {"gap": made.gap, "approximation": made.approximation}
    taken = made.schedule.worth >= run.plan.worth - 1e-9 and take_over(
        run.plan, run.of_version, made.schedule, **told
    )
    state = ended if taken else ImproveState.OVERTAKEN
    tell(run, state=state, share=1.0, worth=made.schedule.worth, bound=made.bound)


def tell(run: Improvement, **facts: object) -> None:
    """Write what is new, and that the worker lives."""
    Improvement.objects.filter(pk=run.pk).update(heard_at=timezone.now(), **facts)


class _Pulse(threading.Thread):
    """Keeps the row fresh while the solver is busy, and hears when it is told to stop."""

    def __init__(self, run: Improvement, leave: Callable[[int], object] | None) -> None:
        super().__init__(daemon=True)
        self.improvement, self.leave = run, leave
        self.stopped = False
        self.ended = threading.Event()
        self.latest: Progress | None = None

    def report(self, progress: Progress) -> bool:
        self.latest = progress
        return not self.stopped

    def run(self) -> None:
        since: float | None = None
        while not self.ended.wait(HEARTBEAT):
            facts: dict[str, object] = {}
            if self.latest is not None:
                facts = {
                    "share": self.latest.share,
                    "worth": self.latest.worth,
                    "bound": self.latest.bound,
                }
            tell(self.improvement, **facts)
            rows = Improvement.objects.filter(pk=self.improvement.pk)
            if rows.filter(stop=True).exists() or not rows.exists():
                self.stopped = True
                since = since or time.monotonic()
                if self.leave and time.monotonic() - since > GRACE:
                    tell(self.improvement, state=ImproveState.CANCELLED)
                    self.leave(0)
        connection.close()

    def end(self) -> None:
        self.ended.set()
        self.join()
