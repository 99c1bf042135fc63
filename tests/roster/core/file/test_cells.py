"""Cells of a roster: what is taken, what is refused and in which words, and on which side.

Shirt numbers 0, 00 and 1 to 99 are those of the FIBA Official Basketball Rules, article 4.3
(from memory); the other bounds and all words are ours, headings as people write them (common
practice).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from roster.core.file.cells import (
    LONGEST_CELL,
    LONGEST_NAME,
    BadCellError,
    column_of,
    name_in,
    number_in,
    of_bearable_length,
    plain,
    positions_in,
)
from roster.core.file.text import BadTableError, decoded
from shared.core.language import ENGLISH, Language


@pytest.mark.parametrize(
    ("heading", "column"),
    [
        ("Name", "name"),
        (" first  NAME ", "name"),
        ("Jugadora", "name"),
        ("#", "number"),
        ("Nr.", "number"),
        ("Jersey number", "number"),
        ("Número", "number"),
        ("Height (cm)", "height_cm"),
        ("Estatura", "height_cm"),
        ("Usual positions", "positions"),
        ("Posición", "positions"),
        ("Pases", "passing"),
        ("Fuerza", "strength"),
        ("Pace", "speed"),
        ("Finishing at the rim", "finishing"),
        ("Tiro", "shooting"),
        ("Screener", "screening"),
        ("Reading the game", "reading"),
        ("Status", "availability"),
        ("Shoe size", None),
        ("", None),
    ],
)
def test_headings_by_other_words(heading: str, column: str | None) -> None:
    assert column_of(heading) == column


def test_words_are_compared_without_case_accents_and_signs() -> None:
    assert plain(" Ala-Pívot (#4) ") == "alapivot#4"
    assert len(plain("x" * (LONGEST_CELL + 9))) == LONGEST_CELL


@pytest.mark.parametrize(
    ("found", "positions"),
    [
        ("PG/2", "12"),
        ("G", "12"),  # G, F and C as box scores have them: common practice
        ("F", "34"),
        ("G-F", "1234"),
        ("F/C", "345"),
        ("Guard", "12"),
        ("1 2", "12"),
        ("3-4", "34"),
        ("point guard, small forward", "13"),
        ("Ala-pívot", "4"),
        ("C F", "534"),
    ],
)
def test_usual_positions_in_the_words_of_the_trade(found: str, positions: str) -> None:
    assert "".join(positions_in(found, ENGLISH)) == positions


@pytest.mark.parametrize("found", ["X", "1-X", "-", "ala-pívot pívot"])
def test_a_word_that_is_no_position_is_refused(found: str) -> None:
    assert refused("positions", found)[0] == "bad_position"


def refused(read: str, found: str) -> tuple[str, str]:
    readers: dict[str, Callable[[str, Language], object]] = {
        "name": name_in,
        "number": number_in,
        "length": of_bearable_length,
        "positions": positions_in,
    }
    with pytest.raises(BadCellError) as told:
        readers[read](found, ENGLISH)
    return told.value.code, str(told.value)


@pytest.mark.parametrize(
    ("read", "found", "code", "said"),
    [
        ("name", "", "empty_name", "The name is empty: write a name or a nickname."),
        ("name", "   ", "empty_name", "The name is empty: write a name or a nickname."),
        ("name", "x" * (LONGEST_NAME + 1), "long_name", "The name has more than 40 letters."),
        (
            "name",
            "I\nda",
            "strange_name",
            "The name has a line break or another invisible sign in it.",
        ),
        (
            "name",
            "Ida\u200b",
            "strange_name",
            "The name has a line break or another invisible sign in it.",
        ),
        ("number", "", "no_number", "The shirt number is empty: write 0, 00 or 1 to 99."),
        ("number", "100", "bad_number", "“100” is no shirt number: use 0, 00 or 1 to 99."),
        ("number", "000", "bad_number", "“000” is no shirt number: use 0, 00 or 1 to 99."),
        ("number", "07", "bad_number", "“07” is no shirt number: use 0, 00 or 1 to 99."),
        ("number", "-1", "bad_number", "“-1” is no shirt number: use 0, 00 or 1 to 99."),
        ("number", "٣", "bad_number", "“٣” is no shirt number: use 0, 00 or 1 to 99."),
        ("length", "x" * 201, "long_cell", "This cell has 201 letters; 200 is the most."),
    ],
)
def test_what_is_refused_is_told_in_words(read: str, found: str, code: str, said: str) -> None:
    assert refused(read, found) == (code, said)


def test_what_is_just_still_taken() -> None:
    assert [number_in(each, ENGLISH) for each in ("0", "00", "1", "9", "10", "99")] == [
        *("0", "00", "1", "9", "10", "99")
    ]
    assert name_in("x" * LONGEST_NAME, ENGLISH) == "x" * LONGEST_NAME
    assert name_in("  Zoe\u0308   van  Dam ", ENGLISH) == "Zoë van Dam", "composed (Unicode, NFC)"
    assert of_bearable_length("x" * LONGEST_CELL, ENGLISH) == "x" * LONGEST_CELL


@pytest.mark.parametrize(
    ("data", "encoding", "text"),
    [
        ("Zoë".encode(), "utf-8", "Zoë"),
        ("Zoë".encode("utf-8-sig"), "utf-8", "Zoë"),
        (b"Zo\xeb \x96 4", "cp1252", "Zoë – 4"),
        # 0x81 is no letter of Windows-1252, and U+0081 a control of Latin-1 (both: Unicode).
        (b"Zo\xeb \x81", "latin-1", "Zoë \x81"),
        ("Zoë\t4\r\n".encode("utf-16"), "utf-16", "Zoë\t4\r\n"),
        (b"", "utf-8", ""),
    ],
)
def test_text_is_read_in_the_first_encoding_that_has_all_its_letters(
    data: bytes, encoding: str, text: str
) -> None:
    found = decoded(data)
    assert (found.encoding, found.text) == (encoding, text)


@pytest.mark.parametrize(
    "data", [b"name\0number", b"\xff\xfe\x00", b"\x89PNG\r\n\x1a\n", b"Zo\xeb\x01", b"\x1b[1m\x81"]
)
def test_bytes_that_are_no_text_are_refused(data: bytes) -> None:
    with pytest.raises(BadTableError):
        decoded(data)
