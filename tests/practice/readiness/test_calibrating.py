"""Calibrating in the background: bounded, the same draw every time, never over newer parameters."""

from __future__ import annotations

import pytest

from coachbook.demo import factories
from practice.core.reps.rep import touches
from practice.models import Calibrating, ReadinessSettings
from practice.parameters import settings_row
from practice.readiness.calibrating import begin, drawn_cells
from practice.reps.sums import touches_of_cell
from shared import worker
from tests.cast import Cast
from tests.practice.logged import reps_of


@pytest.fixture
def log(cast: Cast) -> Cast:
    """Six reps by seven players in turn, so that thirty cells hold one touch each or two."""
    for turn in range(6):
        five = [*cast.players[turn:], *cast.players[:turn]][:5]
        factories.RepFactory.create(
            practice=cast.practice,
            entry=cast.entry,
            cast={str(role): who for role, who in enumerate(five, start=1)},
            is_clean=turn % 2 == 0,
            erred="" if turn % 4 == 1 else "3",
        )
    return cast


def test_the_touches_of_all_cells_are_those_of_the_log(log: Cast) -> None:
    cells, is_whole = drawn_cells()
    assert is_whole
    found = [touch for cell in cells for touch in touches_of_cell(*cell)]
    assert sorted(found, key=repr) == sorted(touches(reps_of(log.team)), key=repr)


def test_a_long_log_is_drawn_from_and_alike_every_time(log: Cast) -> None:
    cells, is_whole = drawn_cells(most=10)
    assert not is_whole
    assert sum(len(touches_of_cell(*cell)) for cell in cells) == 10
    assert drawn_cells(most=10)[0] == cells


def test_parameters_set_meanwhile_are_not_overwritten(log: Cast) -> None:
    run = begin("en")
    row = settings_row()
    row.assumptions = {"decay": 0.7}
    row.save()
    worker.perform(Calibrating.objects.get(pk=run.pk))
    assert Calibrating.objects.get().state == "done"
    assert ReadinessSettings.objects.get().calibration is None


def test_a_finished_run_makes_room_for_another(log: Cast) -> None:
    worker.perform(begin("es"))
    assert "calibra" in str(ReadinessSettings.objects.get().calibration).lower()
    again = begin("en")
    assert again.is_running
    assert Calibrating.objects.count() == 1
