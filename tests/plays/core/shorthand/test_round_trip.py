"""Shorthand and document are each other's inverse, but for ids."""

from __future__ import annotations

import pytest
from hypothesis import given

from plays.core.document.form import problems
from plays.core.play import Cue, Moment, Play
from plays.core.shorthand.naming import canonical
from plays.core.shorthand.read import read
from plays.core.shorthand.write import shorthand
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.samples import down_screen, with_cues
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


def test_a_point_that_a_draft_does_not_name_is_asked_for_and_not_made_up() -> None:
    play = with_cues(down_screen(), "r4", Cue(Moment.PASSES, "c2"))
    assert "cue_point" in {each.code for each in problems(play)}
    text = shorthand(play)
    assert "when 2's cut passes point ?" in text
    assert any("passes point ?" in fault.sentence for fault in read(text).faults)
