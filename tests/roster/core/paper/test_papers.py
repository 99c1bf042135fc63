"""The printed cast and the bench card, read back by a reader that did not write them (pypdf)."""

from __future__ import annotations

import io
from datetime import date

import pytest
from pypdf import PdfReader

from roster.core.paper.bench_pdf import BenchColumn, BenchPlay, write_bench_card
from roster.core.paper.grid_pdf import GridLine, GridName, GridSheet, write_grid
from shared.core.language import ENGLISH

DAY = date(2026, 11, 25)
# ISO 216: A4 is 210 x 297 mm; ANSI/ASME Y14.1: Letter is 8.5 x 11 in. 72 points to the inch.
LYING = {"a4": (841.89, 595.28), "letter": (792.0, 612.0)}


def grid(plays: int) -> GridSheet:
    cells = tuple(
        (GridName(f"Ann {n}", is_out=n == 3), GridName(f"Bea {n}", steps_in=n == 3), GridName(""))
        for n in range(5)
    )
    lines = tuple(GridLine(f"Call {n}", f"Play {n}", cells) for n in range(plays))
    return GridSheet("Herons", DAY, lines)


def read(sheet: GridSheet, paper: str = "a4") -> PdfReader:
    out = io.BytesIO()
    write_grid(sheet, out, paper=paper, language=ENGLISH)
    return PdfReader(io.BytesIO(out.getvalue()))


@pytest.mark.parametrize("paper", sorted(LYING))
def test_forty_plays_are_on_one_page(paper: str) -> None:
    found = read(grid(40), paper)
    assert len(found.pages) == 1
    box = found.pages[0].mediabox
    assert (float(box.width), float(box.height)) == pytest.approx(LYING[paper], abs=0.01)
    text = found.pages[0].extract_text()
    assert all(f"Call {n}" in text for n in range(40))
    assert text.count("Bea 3") == 40
    assert "\x00" not in text, "every letter has its glyph"


def test_the_forty_first_play_goes_on_a_second_page() -> None:
    found = read(grid(41))
    assert "Call 40" in found.pages[1].extract_text()


def test_an_open_role_says_so() -> None:
    cells = ((GridName(""), GridName(""), GridName("")),) * 5
    text = (
        read(GridSheet("Herons", DAY, (GridLine("Call", "Play", cells),))).pages[0].extract_text()
    )
    assert text.count("nobody") == 5


def test_the_same_cast_gives_the_same_bytes() -> None:
    one, other = io.BytesIO(), io.BytesIO()
    for out in (one, other):
        write_grid(grid(3), out, paper="a4", language=ENGLISH)
    assert one.getvalue() == other.getvalue()


@pytest.mark.parametrize("plays", [0, 8, 40])
def test_a_bench_card_is_one_page_whatever_the_package(plays: int) -> None:
    can = tuple(
        BenchPlay(f"Call {n}", "fist over head", "1 Ann · 2 Bea · 3 Cia · 4 Dia · 5 Eva")
        for n in range(plays)
    )
    columns = [BenchColumn(f"Unit {n}", "Ann, Bea, Cia, Dia, Eva", can, ("Ferry",)) for n in (1, 2)]
    out = io.BytesIO()
    write_bench_card(columns, out, team="Herons", made_on=DAY, paper="a4", language=ENGLISH)
    found = PdfReader(io.BytesIO(out.getvalue()))
    assert len(found.pages) == 1
    text = found.pages[0].extract_text()
    assert text.count("4 Dia") == 2 * plays
    assert all(text.count(f"Call {n}") >= 2 for n in range(plays))
    lowest: list[float] = []
    found.pages[0].extract_text(
        visitor_text=lambda t, cm, tm, *_: lowest.append(tm[5]) if t.strip() else None
    )
    assert min(lowest) > 14, "nothing runs off the foot of the page"
    assert "page 1 of 1" in text
    assert len({round(y, 2) for y in lowest}) > plays, "no line is printed over another"
