"""Shorthand and document are each other's inverse, but for ids."""

from __future__ import annotations

import pytest
from hypothesis import given

from plays.core.document.form import problems
from plays.core.play import Play
from plays.core.shorthand.naming import canonical
from plays.core.shorthand.read import read
from plays.core.shorthand.write import shorthand
from tests.plays.core.demo_plays import DEMO
from tests.strategies import sound_plays


@pytest.mark.parametrize("play", DEMO, ids=[play.key for play in DEMO])
def test_a_demo_play_comes_back(play: Play) -> None:
    found = read(shorthand(play))
    assert found.faults == ()
    assert found.play == canonical(play)


@given(sound_plays())
def test_any_sound_play_comes_back(play: Play) -> None:
    found = read(shorthand(play))
    assert found.faults == ()
    assert found.play == canonical(play)


@given(sound_plays())
def test_new_ids_make_no_problem(play: Play) -> None:
    assert problems(canonical(play)) == ()
    assert canonical(canonical(play)) == canonical(play)
    assert shorthand(canonical(play)) == shorthand(play)
