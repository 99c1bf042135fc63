"""A file that stands alone carries its letters; they are read back with fontTools."""

from __future__ import annotations

import re
from base64 import b64decode
from io import BytesIO
from xml.etree import ElementTree as ET

import pytest
from fontTools.ttLib import TTFont

from shared.core.drawing.carried import face_style, parts
from shared.core.drawing.fonts import FALLBACK
from shared.core.drawing.picture import Group, Picture, Shape, Text
from shared.core.drawing.svg import svg_text, write_svg

RULE = re.compile(
    r"@font-face\{font-family:'([^']+)';font-weight:(\d+);"
    r"src:url\(data:font/woff2;base64,([^)]+)\) format\('woff2'\)\}"
)


def line(text: str, *, bold: bool = False) -> Text:
    return Text((1, 9), text, 9, "ink", bold=bold)


def saved(*shapes: Shape) -> str:
    out = BytesIO()
    write_svg(Picture(90, 60, shapes, "One", "Two", {"ink": "#1c1b19"}), out)
    return out.getvalue().decode("utf-8")


def carried(text: str) -> dict[int, set[str]]:
    """The letters of the faces that a file brings along, by weight."""
    found: dict[int, set[str]] = {}
    for family, weight, data in RULE.findall(text):
        assert family == FALLBACK.split(",")[0].strip("'"), "the drawing asks for another face"
        letters = {chr(code) for code in TTFont(BytesIO(b64decode(data))).getBestCmap()}
        found.setdefault(int(weight), set()).update(letters)
    return found


@pytest.mark.parametrize("said", ["Look 1", "Opción 12", "Łucja & Zoë", "#1 ~ 50 %", "Ελένη"])
@pytest.mark.parametrize("bold", [False, True])
def test_a_saved_file_carries_every_letter_that_the_typeface_has(said: str, bold: bool) -> None:
    faces = carried(saved(Group((line(said, bold=bold),))))
    assert set(faces) == {700 if bold else 400}, "no face that nothing is written in"
    (letters,) = faces.values()
    latin = {letter for letter in said if ord(letter) < 0x370}
    assert latin <= letters


def test_it_is_the_smallest_face_that_does() -> None:
    assert parts(set("Look 3"), bold=True) == ("marks",)
    assert parts(set("Łucja"), bold=False) == ("phone",)
    assert parts(set("Łucja"), bold=True) == ("latin", "more")
    assert parts(set("a_b"), bold=False) == ("latin", "more")
    short, long = (len(saved(line(said))) for said in ("Look 3", "Wing"))
    assert short < 3_000 < long < 12_000


def test_a_drawing_within_a_page_and_one_without_words_carry_none() -> None:
    picture = Picture(90, 60, (line("Look 3"),), "One", "Two", {"ink": "#1c1b19"})
    assert "<style" not in svg_text(picture)
    assert face_style(()) == ""
    assert not carried(saved())


def test_the_face_stands_where_xml_and_style_may_have_it() -> None:
    root = ET.fromstring(saved(line("Look 3"), line("5", bold=True)).encode("utf-8"))
    (style,) = root.findall("{http://www.w3.org/2000/svg}style")
    assert style.text is not None
    assert style.text.count("@font-face") == 2
    assert root[2] is style, "after the title and the description"
