"""Words for left and right: swapped where they mean a side, and places that must be read again."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.moves.side_words import mirrored_text, names_a_place
from tests.plays.core import random_plays


@pytest.mark.parametrize(
    ("text", "mirrored"),
    [
        ("left", "right"),
        ("Left, RIGHT and right.", "Right, LEFT and left."),
        ("right-handed finish", "left-handed finish"),
        ("bright cleft lefts", "bright cleft lefts"),
        ("right away, three seconds left", "right away, three seconds left"),
        ("2 was left alone on the left", "2 was left alone on the right"),
        ("all right: go left", "all right: go right"),
        ("the near side, the far corner", "the near side, the far corner"),
        ("a la izquierda, codo derecho", "a la derecha, codo izquierdo"),
        ("4 follows right behind: go right", "4 follows right behind: go left"),
        ("lEft", "lEft"),
        ("", ""),
    ],
)
def test_words_for_left_and_right(text: str, mirrored: str) -> None:
    assert mirrored_text(text) == mirrored
    assert mirrored_text(mirrored) == text


def test_texts_that_name_a_place() -> None:
    assert names_a_place("Cut to the far corner")
    assert names_a_place("al codo")
    for text in (
        "Straight to the rim",
        "Seal on the lane line",
        "Face the basket",
        "Through the middle",
        "Stay behind half-way",
        "Never over the halfway line",
        "Pin your man in the paint",
        "Al aro",
        "En la zona",
        "Por el centro",
    ):
        assert names_a_place(text), text
    assert not names_a_place("Call his name")
    assert not names_a_place("Hold for two seconds, right away")
    assert not names_a_place("Stopwatch")


@given(st.text() | random_plays.texts)
def test_words_mirrored_twice_are_the_words(text: str) -> None:
    assert mirrored_text(mirrored_text(text)) == text
