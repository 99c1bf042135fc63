"""Colours: contrast by the formula of WCAG 2.2, and the style sheet written from the table."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from plays.core.drawing.inks import Scheme, inks, strip_inks, stylesheet
from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from shared.core.drawing.svg import svg_text
from tests.plays.core.drawing.drawn_plays import GATEHOUSE

SHEET = Path(__file__).parents[4] / "static" / "css" / "colours.css"
SCHEMES: tuple[Scheme, ...] = ("light", "dark", "print")


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2 definition."""
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2 definition."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_on_its_known_ends() -> None:
    assert contrast("#ffffff", "#000000") == pytest.approx(21)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)  # W3C's own example


LEAST = {"ink": 7.0, "own": 6.0, "quiet": 4.5}


@pytest.mark.parametrize(
    ("scheme", "ink", "ground"), list(product(SCHEMES, LEAST, ("paper", "lane")))
)
def test_everything_that_means_something_is_legible(scheme: Scheme, ink: str, ground: str) -> None:
    table = inks(scheme)
    assert contrast(table[ink], table[ground]) >= LEAST[ink]


@pytest.mark.parametrize("scheme", SCHEMES)
def test_numbers_on_a_filled_shape_are_legible(scheme: Scheme) -> None:
    table = inks(scheme)
    assert contrast(table["on_own"], table["own"]) >= 7


def test_print_is_black_on_white() -> None:
    assert inks("print")["paper"] == "#ffffff"
    assert {strip_inks("print")[ink] for ink in ("ink", "own", "bad", "warn")} == {"#000000"}
    for colour in inks("print").values():
        assert len({colour[1:3], colour[3:5], colour[5:7]}) == 1


def test_the_style_sheet_is_current() -> None:
    assert SHEET.read_text(encoding="utf-8") == stylesheet()


def test_every_class_of_a_page_diagram_is_in_the_style_sheet() -> None:
    picture = diagram(GATEHOUSE, "gate", Drawing(emphasis="2", defenders=True, scheme="page"))
    text = svg_text(picture)
    names = {name for part in text.split('class="')[1:] for name in part.split('"')[0].split()}
    assert "dg-s-own" in names
    assert all(f".{name} {{" in stylesheet() for name in names)
    assert dict(inks("page")) == dict(inks("light"))
    assert "class=" not in svg_text(diagram(GATEHOUSE, "gate"))
