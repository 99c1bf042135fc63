"""Lettering broken into lines and blocks put on pages: held against the promise of each."""

from __future__ import annotations

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.pdfmetrics import stringWidth

from roster.core.paper.blocks import Gap, Lettering, Rule, columns, text
from roster.core.paper.leaf import Leaf, Passage, flow
from shared.core.drawing.pdf import BOLD, REGULAR, register_fonts

WORDS = st.text("abcdefghijklmnopqrstuvwxyz WMÅéß.-,", max_size=160)
HEIGHTS = st.lists(st.floats(1, 120), min_size=1, max_size=9)


def widest(made: Lettering) -> float:
    """By reportlab's own measure of the fonts, which is not ours."""
    register_fonts()
    return max(
        (
            sum(stringWidth(w, BOLD if bold else REGULAR, made.size) for w, bold in line)
            for line in made.lines
        ),
        default=0.0,
    )


@given(WORDS, WORDS, st.floats(40, 400))
def test_no_line_is_wider_than_its_room_and_no_word_is_lost(
    bold: str, words: str, width: float
) -> None:
    made = text(words, width, 9.0, bold=bold)
    assert widest(made) <= width + 0.1
    said = "".join(word for line in made.lines for word, _ in line)
    assert said.replace(" ", "") == (bold + words).replace(" ", "")


@given(st.lists(HEIGHTS, min_size=1, max_size=8))
def test_every_row_is_on_one_page_and_no_page_is_overfull(entries: list[list[float]]) -> None:
    given_rows = [Passage(tuple(Gap(height) for height in heights)) for heights in entries]
    leaves = flow(given_rows, 200.0)
    placed = [each for leaf in leaves for each in leaf.placed if each.block.height]
    assert len(placed) == sum(map(len, entries))
    for leaf in leaves:
        last = leaf.placed[-1]
        assert last.below + last.block.height <= 200 + 1e-6
    for entry in given_rows:
        whole = sum(row.height for row in entry.rows)
        assert whole > 200 or pages_with(leaves, entry) == 1


def pages_with(leaves: tuple[Leaf, ...], entry: Passage) -> int:
    rows = {id(row) for row in entry.rows}
    return sum(any(id(each.block) in rows for each in leaf.placed) for leaf in leaves)


def test_a_row_higher_than_a_page_is_made_smaller_and_stays_whole() -> None:
    (leaf,) = flow([Passage((Gap(900.0),))], 200.0)
    assert leaf.placed[0].block.height == 200.0


@given(HEIGHTS, st.floats(0, 100))
def test_columns_are_as_low_as_any_parting_in_order_makes_them(
    heights: list[float], head: float
) -> None:
    """Against every parting in two, tried by hand."""
    blocks = [Rule(10, 1, height) for height in heights]
    made = columns(blocks, 2, 200, 10, [Gap(head)])
    ways = range(len(heights) + 1)
    best = min(max(head + sum(heights[:cut]), sum(heights[cut:])) for cut in ways)
    assert abs(made.height - best) < 1e-6


def test_a_word_wider_than_its_room_is_cut_where_it_just_fits() -> None:
    """Each piece fits by reportlab's measure, and one letter more would not."""
    register_fonts()
    word, width, size = "throwinthrowinthrowin", 40.0, 10.0
    pieces = [said for line in text(word, width, size).lines for said, _bold in line]
    assert "".join(pieces) == word
    assert len(pieces) > 1
    for piece, following in pairwise(pieces):
        assert stringWidth(piece, REGULAR, size) <= width
        assert stringWidth(piece + following[0], REGULAR, size) > width
    one = [said for line in text("WW", 5.0, size).lines for said, _bold in line]
    assert one == ["W", "W"]  # narrower than any letter: a letter a line
