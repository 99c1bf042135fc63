"""Style sheets take every colour from the one table."""

from __future__ import annotations

import re
from pathlib import Path

from coachbook.colours import SHEET
from shared.core.drawing.colours import COLOURS

STATIC = Path(__file__).resolve().parents[2] / "static"
HEX = re.compile(r"#(?:[0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})\b", re.IGNORECASE)


def test_no_colour_stands_outside_the_table() -> None:
    sheets = {path for path in STATIC.rglob("*.css") if path != SHEET}
    assert {path.name: HEX.findall(path.read_text("utf-8")) for path in sheets} == {
        path.name: [] for path in sheets
    }


def test_pages_speak_of_colours_that_are_in_the_table() -> None:
    said = {
        name
        for path in STATIC.rglob("*.css")
        for name in re.findall(r"var\(--([a-z-]+)", path.read_text("utf-8"))
    }
    sizes = set(re.findall(r"--([a-z-]+):", (STATIC / "css" / "tokens.css").read_text("utf-8")))
    assert said <= COLOURS.keys() | sizes
    assert COLOURS.keys() <= said


def test_the_mark_wears_the_accent() -> None:
    mark = (STATIC / "img" / "mark.svg").read_text("utf-8")
    assert set(HEX.findall(mark)) == {COLOURS["accent"].light, "#fff"}


def test_every_style_sheet_is_loaded_by_a_template() -> None:
    pages = "".join(
        path.read_text("utf-8") for path in (STATIC.parent / "templates").rglob("*.html")
    )
    assert {path.name for path in STATIC.rglob("*.css")} == set(
        re.findall(r"css/(\w+\.css)", pages)
    )


def test_the_scheme_changes_colours_alone() -> None:
    """In the dark, axe is asked for colours only (`tests/browser/accessibility.py`)."""
    styles = {path.name: path.read_text("utf-8") for path in (STATIC / "css").glob("*.css")}
    ask = "prefers-color-scheme"
    assert [name for name, text in styles.items() if ask in text] == ["colours.css"]
    dark = r"@media \(prefers-color-scheme: dark\) \{\s*:root \{([^}]*)\}"
    (block,) = re.findall(dark, styles["colours.css"])
    assert all(
        re.fullmatch(r"--[a-z-]+: #[0-9a-f]{6}", each.strip()) for each in block.split(";")[:-1]
    )
    scripts = (STATIC / "js").glob("*.js")
    assert not [path.name for path in scripts if ask in path.read_text("utf-8")]
