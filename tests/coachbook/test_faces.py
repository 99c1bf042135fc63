"""The small faces of players' pages and pictures hold what those write, in the same letters."""

from __future__ import annotations

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from coachbook.catalogue import po_files, read, texts
from coachbook.demo.club import SQUADS
from coachbook.faces import UNITS, Part, letters, small_file
from shared.core.drawing.fonts import font_file
from shared.core.drawing.letters import COMMON, NAMES


def written() -> set[str]:
    """Every character of every English and Spanish sentence, and of the demo club's names."""
    found = set("".join(member.name for squad in SQUADS for member in squad.members))
    for message in read(po_files()[0].read_text("utf-8")).sentences():
        english = message.id if isinstance(message.id, str) else "".join(message.id)
        found |= set(english) | set("".join(texts(message)))
    return {letter for letter in found if letter.isprintable()}


@pytest.mark.parametrize("part", ["phone", "marks"])
@pytest.mark.parametrize("bold", [False, True])
def test_a_face_holds_its_letters_as_the_whole_one_draws_them(part: Part, bold: bool) -> None:
    small, whole = TTFont(small_file(part, bold=bold)), TTFont(font_file(bold=bold))
    assert small["head"].unitsPerEm == UNITS
    assert {chr(code) for code in small.getBestCmap()} == letters(part, bold=bold)
    scale = UNITS / whole["head"].unitsPerEm
    for letter in sorted(letters(part, bold=bold)):
        sizes = []
        for font in (small, whole):
            name, pen = font.getBestCmap()[ord(letter)], BoundsPen(font.getGlyphSet())
            font.getGlyphSet()[name].draw(pen)
            sizes.append((font["hmtx"][name][0], *(pen.bounds or ())))
        assert sizes[0] == pytest.approx([scale * size for size in sizes[1]], abs=1.5), letter


def test_the_letters_that_pages_write_are_there() -> None:
    signs = {letter for letter in written() if not letter.isalnum() and not letter.isspace()}
    plain = {letter for letter in written() if letter.isalpha()}
    assert plain <= COMMON | NAMES
    # Signs that stand on the staff's pages alone: they are no letters of a player's sentences.
    assert {"“", "”", "¿", "¡", "’", "…", "·", "‹"} & signs <= COMMON
    assert len(plain) > 60
