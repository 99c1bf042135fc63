"""How much a play counts in casting and schedules: our own choice, one wherever it is asked."""

from __future__ import annotations

from roster.core.cast import DEPTHS, IMPORTANCE


def test_a_core_play_counts_as_two_regular_ones_and_a_spare_one_as_half() -> None:
    core, regular, spare = (IMPORTANCE[priority] for priority in (1, 2, 3))
    assert (core, regular, spare) == (2.0, 1.0, 0.5)
    assert set(IMPORTANCE) == {1, 2, 3}
    assert DEPTHS == (1, 2, 3)
