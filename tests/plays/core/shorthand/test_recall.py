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
