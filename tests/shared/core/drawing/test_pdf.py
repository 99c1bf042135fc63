"""PDF read back by pypdf."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

from shared.core.drawing.fonts import text_width
from shared.core.drawing.pdf import draw_on_canvas, write_pdf
from shared.core.drawing.picture import Box, Circle, Group, Paint, Path, Picture, Text, lines

INKS = {"ink": "#000000", "paper": "#ffffff"}
DASHED = Paint(stroke="ink", width=2, dash=(5, 3), round=False)
PICTURE = Picture(
    120,
    80,
    (
        Box((0, 0), 120, 80, Paint(fill="paper")),
        Path((("M", (10, 10)), ("C", (20, 0), (60, 0), (70, 10))), DASHED),
        Group((Circle((60, 40), 9, Paint(stroke="ink", fill="paper")),), clip=(0, 0, 100, 70)),
        Path(lines((1, 1), (9, 1), (5, 8), closed=True), Paint(fill="ink")),
        Text((60, 44), "Łucja", 10, "ink", anchor="middle"),
        Text((60, 60), "Runa", 10, "ink", bold=True, anchor="end"),
    ),
    "Gatehouse",
    "Łucja has the ball.",
    INKS,
    lang="es",
)


def written(picture: Picture) -> bytes:
    out = BytesIO()
    write_pdf(picture, out)
    return out.getvalue()


def test_page_title_language_and_searchable_text() -> None:
    reader = PdfReader(BytesIO(written(PICTURE)))
    page = reader.pages[0]
    assert (float(page.mediabox.width), float(page.mediabox.height)) == (120, 80)
    assert reader.metadata is not None
    assert reader.metadata.title == "Gatehouse"
    assert reader.metadata.subject == "Łucja has the ball."
    assert str(reader.root_object["/Lang"]) == "es"
    assert page.extract_text().split() == ["Łucja", "Runa"]


def test_fonts_are_embedded() -> None:
    embedded, plain = PdfReader(BytesIO(written(PICTURE))).pages[0]._get_fonts()
    assert {name.split("+")[-1] for name in embedded} == {"Inter-Regular", "Inter-Bold"}
    assert not plain


def test_lines_stay_vectors_with_their_dashes() -> None:
    content = PdfReader(BytesIO(written(PICTURE))).pages[0].get_contents()
    assert content is not None
    drawn = content.get_data().decode("latin-1")
    assert "10.00 10.00 m 20.00 0.00 60.00 0.00 70.00 10.00 c S" in drawn
    assert "[5 3] 0 d" in drawn
    assert "/Image" not in drawn


def test_the_same_picture_gives_the_same_bytes() -> None:
    assert written(PICTURE) == written(PICTURE)


def test_a_picture_takes_its_place_on_a_page() -> None:
    out = BytesIO()
    canvas = Canvas(out, pagesize=(300, 200), invariant=1)
    assert draw_on_canvas(PICTURE, canvas, 30, 20, 60) == pytest.approx(40)
    canvas.showPage()
    canvas.save()
    found: list[tuple[str, float, float]] = []

    def visit(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        if text.strip():
            found.append((text.strip(), cm[0] * tm[4] + cm[4], cm[3] * tm[5] + cm[5]))

    PdfReader(BytesIO(out.getvalue())).pages[0].extract_text(visitor_text=visit)
    places = {text: (x, y) for text, x, y in found}
    half = text_width("Łucja", 10) / 2  # the text is centred, and drawn at half size
    assert places["Łucja"] == pytest.approx((30 + 30 - half / 2, 20 + 40 - 22), abs=0.01)


def test_a_box_with_corners_is_bends_and_one_without_is_a_rectangle() -> None:
    """ISO 32000-1, 8.5.2: ``re`` appends a rectangle, ``c`` a Bézier curve; four corners, four."""
    for corner, rectangles, bends in ((0.0, 2, 0), (3.0, 1, 4)):  # the paper is one rectangle
        box = Box((10, 10), 40, 20, Paint(fill="paper"), corner=corner)
        page = PdfReader(BytesIO(written(replace(PICTURE, shapes=(box,))))).pages[0]
        contents = page.get_contents()
        assert contents is not None
        operators = contents.get_data().split()
        assert operators.count(b"re") == rectangles
        assert operators.count(b"c") == bends


def test_the_faces_are_there_in_a_process_that_has_drawn_nothing_yet() -> None:
    program = """
from io import BytesIO
from reportlab.pdfgen.canvas import Canvas
from shared.core.drawing.pdf import draw_on_canvas
from shared.core.drawing.picture import Picture, Text
draw_on_canvas(Picture(9, 9, (Text((1, 5), "A", 4, "ink"),), "", "", {"ink": "#000000"}, lang="en"),
               Canvas(BytesIO()), 0, 0, 9)
"""
    subprocess.run([sys.executable, "-c", program], check=True)
