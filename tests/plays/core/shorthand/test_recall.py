"""An edited play is still the same play to sheets and logs: what they point at keeps its id."""

from __future__ import annotations

from dataclasses import replace

import pytest

from plays.core.play import Play
from plays.core.shorthand.read import read
from plays.core.shorthand.recall import recalled
from plays.core.shorthand.write import shorthand
from tests.plays.core.demo_plays import DEMO


@pytest.mark.parametrize("play", DEMO, ids=[play.key for play in DEMO])
def test_a_play_that_nobody_changed_comes_back_whole(play: Play) -> None:
    assert recalled(read(shorthand(play)).play, play) == play


@pytest.mark.parametrize("play", DEMO, ids=[play.key for play in DEMO])
def test_another_name_changes_nothing_that_is_pointed_at(play: Play) -> None:
    named = replace(play, name="Quite Another")
    assert recalled(read(shorthand(named)).play, play) == named


TWO = "phase: One\n2 cuts to the top\n"


def test_what_is_new_keeps_clear_of_the_ids_that_the_play_had() -> None:
    """A cut of the 3 is "3-cut" by the rule of the text; here a cut of the 2 has that name."""
    plain = read(TWO).play
    (phase,) = plain.phases
    old = replace(plain, phases=(replace(phase, actions=(replace(phase.actions[0], id="3-cut"),)),))
    now = recalled(read(f"{TWO}3 cuts to the nail\n4 cuts to the left wing\n").play, old)
    assert [(action.role, action.id) for action in now.actions()] == [
        ("2", "3-cut"),
        ("3", "3-cut-new"),
        ("4", "4-cut"),
    ]
