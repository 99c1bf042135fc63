"""Improving an install plan in the background; a plan changed meanwhile is never overwritten."""

from __future__ import annotations

import time

from django.db import transaction
from django.utils import timezone

from practice.core.install.build import NothingToPlanError
from practice.core.install.improve import ImproveProgress, improve
from practice.install.plan import entries_of, question, take_over
from practice.models import Improvement, InstallPlan
from shared.core.language import N_
from shared.worker import Facts, Pulse, WorkError, launch, look_after

State = Improvement.State
NOTHING = N_("There is nothing to plan: no play is cast.")


@transaction.atomic
def begin(plan: InstallPlan, seconds: int) -> Improvement:
    """Start to improve a plan; a run that is going is not begun twice, but answered with."""
    latest = latest_of(plan)
    if latest is not None and latest.is_running:
        return latest
    made = Improvement.objects.create(plan=plan, of_version=plan.version, seconds=seconds)
    launch(made)
    return made


def latest_of(plan: InstallPlan) -> Improvement | None:
    """The run that a page tells of."""
    latest = plan.improvements.first() if plan.pk else None
    return latest and look_after(latest)


def work(run: Improvement, pulse: Pulse) -> Facts:
    """Improve, and put the better plan in the place of the old one."""
    try:
        asked = question(run.plan.game, timezone.now(), entries_of(run.plan, locked=True))
        made = improve(
            asked.ask, float(run.seconds), time.perf_counter, lambda at: pulse.report(**_told(at))
        )
    except NothingToPlanError:
        raise WorkError(NOTHING) from None
    facts: dict[str, object] = {"share": 1.0, "worth": made.schedule.worth, "bound": made.bound}
    # A plan that coaches have bettered since, or that was the better one, stays.
    taken = made.schedule.worth >= run.plan.worth - 1e-9 and take_over(
        run.plan, run.of_version, made.schedule, made.gap
    )
    return facts if taken else {**facts, "state": State.OVERTAKEN}


def _told(progress: ImproveProgress) -> dict[str, object]:
    return {"share": progress.share, "worth": progress.worth, "bound": progress.bound}
