"""The table of colours against WCAG 2.2: relative luminance and contrast as defined there."""

from __future__ import annotations

import pytest

from shared.core.drawing.colours import COLOURS, Medium, declared
from shared.core.drawing.pdf import on_paper


def luminance(colour: str) -> float:
    """WCAG 2.2, "relative luminance"."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return sum(weight * p for weight, p in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, "contrast ratio"."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(("name", "told"), [("ink", 16.0), ("faint", 7.0), ("accent", 6.9)])
def test_the_contrasts_that_the_table_tells_are_those_it_has(name: str, told: float) -> None:
    found = contrast(COLOURS[name].light, COLOURS["paper"].light)
    assert told - 0.05 < found < told + 0.5


@pytest.mark.parametrize("medium", ["light", "dark", "print"])
@pytest.mark.parametrize("name", ["ink", "faint", "accent", "amber", "brick", "green"])
def test_words_can_be_read_on_paper_and_on_a_sheet(name: str, medium: Medium) -> None:
    """Success criterion 1.4.3: at least 4.5 to 1."""
    for ground in ("paper", "sheet"):
        assert contrast(COLOURS[name].on(medium), COLOURS[ground].on(medium)) >= 4.5


def test_a_style_sheet_declares_each_colour_once_on_its_medium() -> None:
    for medium in ("light", "dark", "print"):
        lines = declared(medium).splitlines()
        assert len(lines) == len(set(lines)) == len(COLOURS)
        assert lines[0] == f"--paper: {COLOURS['paper'].on(medium)};"
    assert "--ink: #1c1b19;\n" in declared("light")
    assert "--ink: #efece4;\n" in declared("dark")
    assert "--ink: #000000;\n" in declared("print")


def test_paper_takes_the_colour_of_print() -> None:
    red, green, blue = on_paper("rule").rgb()
    assert (red, green, blue) == pytest.approx((0x88 / 255,) * 3)
    assert on_paper("ink").hexval() == "0x000000"
    with pytest.raises(KeyError, match="sky"):
        on_paper("sky")
