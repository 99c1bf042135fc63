"""The typeface: widths against Pillow and reportlab, which read the same files themselves."""

from __future__ import annotations

import pytest
from PIL import ImageFont
from reportlab.pdfbase.pdfmetrics import stringWidth

from shared.core.drawing.fonts import FOLDER, font_file, read_face, shortened, text_width
from shared.core.drawing.pdf import BOLD, REGULAR, register_fonts

NAMES = (
    "Ida",
    "Łucja Žižek",
    "Zoë Åström",
    "Maximiliane",
    "Đorđe",
    "Дарья",
    "Αλκμήνη",
    "Nguyễn",
    "12",
)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("name", NAMES)
def test_widths_agree_with_pillow_and_reportlab(name: str, bold: bool) -> None:
    register_fonts()
    font = ImageFont.truetype(font_file(bold=bold), 1000, layout_engine=ImageFont.Layout.BASIC)
    width = text_width(name, 1000, bold=bold)
    assert width == pytest.approx(font.getlength(name), rel=2e-3)
    assert width == pytest.approx(stringWidth(name, BOLD if bold else REGULAR, 1000), rel=2e-3)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("name", NAMES)
def test_the_face_has_every_letter_of_a_name(name: str, bold: bool) -> None:
    assert read_face(bold=bold).covers(name)


def test_a_missing_letter_is_known_and_still_has_a_width() -> None:
    assert not read_face().covers("木")
    assert text_width("木", 10) > 0


def test_a_long_name_is_shortened_to_fit() -> None:
    assert shortened("Ida", 10, 100) == "Ida"
    short = shortened("Maximiliane Hohenberg", 10, 60)
    assert short.endswith("…")
    assert text_width(short, 10) <= 60
    assert shortened("Ida", 10, 1) == ""


def test_the_licence_stands_beside_the_files() -> None:
    assert "SIL Open Font License" in (FOLDER / "LICENSE.txt").read_text(encoding="utf-8")
    assert font_file().read_bytes()[:4] == b"\x00\x01\x00\x00"  # TrueType outlines


def test_a_shortened_word_ends_in_an_ellipsis_and_no_space_before_it() -> None:
    whole = "Ida Mumma"
    room = text_width("Ida M…", 10) - 0.01
    assert shortened(whole, 10, room) == "Ida…"
    assert shortened(whole, 10, text_width("Ida M…", 10)) == "Ida M…"
    assert shortened(whole, 10, text_width(whole, 10)) == whole
    assert shortened(whole, 10, text_width("I…", 10) - 0.01) == ""
