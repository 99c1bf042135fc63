"""A demo play as text stays as somebody has read it, in the words of both languages.

That it says what the document says is held by the round trips; how it reads, by this.
"""

from __future__ import annotations

import pytest

from plays.core.play import Play
from plays.core.shorthand.tongue import spanish
from plays.core.shorthand.write import shorthand
from tests.kept import assert_same
from tests.plays.core.demo_plays import DEMO


@pytest.mark.parametrize("play", DEMO, ids=[play.key for play in DEMO])
def test_a_play_is_written_as_before(play: Play) -> None:
    text = shorthand(play)
    assert_same(f"{text}\n\n{spanish(text)}\n", __file__, f"{play.key}.txt")
