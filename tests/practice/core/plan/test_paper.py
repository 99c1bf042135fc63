"""A plan on paper, read back by a reader that did not write it (pypdf)."""

from __future__ import annotations

from io import BytesIO
from typing import Any

import pytest
from PIL import Image
from pypdf import PdfReader

from practice.core.plan.pdf import PlanLine, PlanSheet, write_plan
from shared.core.language import ENGLISH
from tests.kept_pages import assert_pages_kept

# ISO 216: A4 is 210 x 297 mm; ANSI/ASME Y14.1: Letter is 8.5 x 11 in. 72 points to the inch.
MM = 72 / 25.4
SIZES = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}
LINES = (
    PlanLine("18:00", "15 min", "Warm-up", "all together", "cones"),
    PlanLine("18:15", "10 min", "Lantern"),
)


def sheet(lines: tuple[PlanLine, ...] = LINES) -> PlanSheet:
    return PlanSheet(
        "Tuesday",
        "Hall 2",
        "25 minutes planned",
        lines,
        "18:25",
        ("balls", "cones"),
        ("short",),
        ("Drink.",),
    )


def read(made: PlanSheet, paper: str = "a4") -> PdfReader:
    out = BytesIO()
    write_plan(made, out, paper=paper, language=ENGLISH)
    return PdfReader(BytesIO(out.getvalue()))


def sizes(found: PdfReader) -> dict[str, float]:
    """The size of the letters of each line, as they are set on the page."""
    said: dict[str, float] = {}

    def visit(text: str, cm: list[float], tm: list[float], _: Any, size: float) -> None:
        if text.strip():
            said[text.strip()] = round(size * cm[0] * tm[0], 2)

    found.pages[0].extract_text(visitor_text=visit)
    return said


@pytest.mark.parametrize("paper", sorted(SIZES))
def test_everything_is_said_once_on_one_page_of_its_size(paper: str) -> None:
    found = read(sheet(), paper)
    (page,) = found.pages
    size = (float(page.mediabox.width), float(page.mediabox.height))
    assert size == pytest.approx(SIZES[paper], abs=0.01)
    text = page.extract_text()
    for word in ("Tuesday", "Hall 2", "18:00", "Warm-up", "Lantern", "all together", "18:25"):
        assert text.count(word) == 1, word
    assert "Bring: balls and cones" in text
    assert "! short" in text


def test_a_block_is_set_as_large_as_its_time_and_small_print_smaller() -> None:
    set_in = sizes(read(sheet()))
    assert set_in["Warm-up"] == set_in["18:00"] == set_in["15 min"] == set_in["End"]
    assert set_in["all together"] == set_in["cones"] < set_in["Warm-up"] < set_in["Tuesday"]


def test_how_a_drill_goes_begins_at_one_edge_with_a_picture_and_without() -> None:
    def left(picture: bytes) -> float:
        line = PlanLine("18:15", "10 min", "Lantern", text="Two lines pass.", picture=picture)
        found: list[float] = []

        def visit(text: str, cm: list[float], tm: list[float], *_: Any) -> None:
            if "Two lines" in text:
                found.append(tm[4] * cm[0] + cm[4])

        read(sheet((line,))).pages[0].extract_text(visitor_text=visit)
        (x,) = found
        return x

    drawn = BytesIO()
    Image.new("RGB", (40, 30), "white").save(drawn, "PNG")
    assert left(drawn.getvalue()) == pytest.approx(left(b""))


@pytest.mark.parametrize("size", [(40, 30), (400, 100), (90, 600)])
def test_the_picture_of_a_drill_keeps_its_shape_within_its_room(size: tuple[int, int]) -> None:
    drawn, out = BytesIO(), BytesIO()
    Image.new("RGB", size, "black").save(drawn, "PNG")
    line = PlanLine("18:15", "10 min", "Lantern", text="Two lines.", picture=drawn.getvalue())
    write_plan(sheet((line,)), out, paper="a4", language=ENGLISH)
    scales: list[tuple[float, float]] = []

    def before(operator: bytes, operands: list[Any], *_: Any) -> None:
        if operator == b"cm":
            scales.append((float(operands[0]), float(operands[3])))
        if operator == b"Do":
            found.append(scales[-1])

    found: list[tuple[float, float]] = []
    page = PdfReader(BytesIO(out.getvalue())).pages[0]
    page.extract_text(visitor_operand_before=before)
    ((wide, high),) = found
    assert wide / high == pytest.approx(size[0] / size[1], rel=0.01)
    # 60 by 45 mm at most; our layout.
    assert max(wide / (60 * MM), high / (45 * MM)) == pytest.approx(1.0, abs=0.01)


def test_a_long_plan_is_set_smaller_on_one_page() -> None:
    many = tuple(PlanLine(f"{n:02}:00", "5 min", f"Block {n}", "one detail") for n in range(60))
    found = read(sheet(many))
    assert len(found.pages) == 1
    assert all(f"Block {n}" in found.pages[0].extract_text() for n in range(60))
    assert sizes(found)["Block 7"] < sizes(read(sheet()))["Warm-up"]


def test_a_plan_is_printed_as_it_was_approved() -> None:
    """No source says how a plan of ours is set: this one was approved by eye."""
    assert_pages_kept(read(sheet()), __file__, "plan")
