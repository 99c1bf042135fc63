"""Calibrating in the background, on no more reps than a minute can fit, however long the log.

Whole cells (a player, a play, a role) are drawn from the log, since a forecast rests on all that
its cell had behind it; the draw has a fixed seed, so that the same log gives the same answer.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Final

from django.db import transaction
from django.db.models import Sum

from plays.core.play import Role, as_role
from practice.core.readiness.calibration import calibrate
from practice.learned.index import calibrate_games, keep_index
from practice.models import Calibrating, ReadinessSettings, RepSum
from practice.parameters import chosen, keep_calibration, settings_row
from practice.reps.sums import touches_of_cell
from shared.speech import language_of
from shared.worker import Facts, Pulse, launch, look_after

MOST: Final = 20_000  # touches that a calibration looks at; ours
SEED: Final = 1

Cell = tuple[int, int, Role]  # player, entry, role


@transaction.atomic
def begin(code: str) -> Calibrating:
    """Start to calibrate and speak this language; a run that is going is answered with."""
    latest = latest_run()
    if latest is not None and latest.is_running:
        return latest
    asked = settings_row().assumptions
    Calibrating.objects.bulk_create(
        [Calibrating(language=code, assumptions=asked)], ignore_conflicts=True
    )
    for fresh in Calibrating.objects.filter(state=Calibrating.State.RUNNING, starts=0):
        launch(fresh)
    Calibrating.objects.exclude(state=Calibrating.State.RUNNING).delete()
    return Calibrating.objects.get(state=Calibrating.State.RUNNING)


def latest_run() -> Calibrating | None:
    """The run that a page tells of."""
    latest = Calibrating.objects.first()
    return latest and look_after(latest)


def work(run: Calibrating, _pulse: Pulse) -> Facts:
    """Fit, and keep what was found unless the parameters were set anew meanwhile."""
    cells, is_whole = drawn_cells()
    history = [touch for cell in cells for touch in touches_of_cell(*cell)]
    made = calibrate(history, chosen(settings_row()), language_of(run.language))
    games = calibrate_games(language_of(run.language))
    with transaction.atomic():
        row = ReadinessSettings.objects.select_for_update().first() or ReadinessSettings()
        if row.assumptions == run.assumptions:
            keep_calibration(row, made, is_sample=not is_whole)
        keep_index(row, games)
    return {}


def drawn_cells(most: int = MOST) -> tuple[list[Cell], bool]:
    """Cells with at most so many touches together, and whether these are all there are."""
    counted = RepSum.objects.order_by("player", "entry", "role").values_list(
        "player", "entry", "role"
    )
    found = list(counted.annotate(touches=Sum("count")))
    Random(SEED).shuffle(found)  # noqa: S311 - the same draw every time, no secret
    return list(_within(found, most)), sum(row[3] for row in found) <= most


def _within(found: list[tuple[int, int, str, int]], most: int) -> Iterator[Cell]:
    left = most
    for player, entry, role, touches in found:
        if touches <= left:
            left -= touches
            yield player, entry, as_role(role)
