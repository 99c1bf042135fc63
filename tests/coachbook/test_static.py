"""Style sheets take every colour from the one table."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from coachbook.colours import SHEET
from shared.core.drawing.colours import COLOURS

STATIC = Path(__file__).resolve().parents[2] / "static"
BY_WIDTH = re.compile(
    r"@media[^{]*(max|min)-width: ?([\d.]+)(rem|px)[^{]*\{((?:[^{}]*\{[^{}]*\})*[^{}]*)\}"
)
HEX = re.compile(r"#(?:[0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})\b", re.IGNORECASE)


# CSS Color 4: functions, and the names that style sheets and drawing libraries know.
NAMED = re.compile(
    r"(?:rgb|hsl|hwb|lab|lch|oklab|oklch)a?\(|[:\s\"'](?:black|white|gr[ae]y|silver|red|green|blue|"
    r"orange|yellow|brown|purple|navy|teal|maroon)(?=[;\"'\s}])(?!\s*:)",
    re.IGNORECASE,
)


def test_no_colour_stands_outside_the_table() -> None:
    sheets = {path for path in STATIC.rglob("*.css") if path != SHEET}
    scripts = {path for path in (STATIC / "js").glob("*.js") if "htmx" not in path.name}
    for path in sheets | scripts:
        text = re.sub(r"(?s)/\*.*?\*/|//[^\n]*", "", path.read_text("utf-8"))
        assert HEX.findall(text) + NAMED.findall(text) == [], path.name


def test_no_module_has_a_colour_of_its_own() -> None:
    """Not as a code, not as a word that Pillow takes, not as one of reportlab's constants."""
    root, table = STATIC.parent, "shared/core/drawing/colours.py"
    for app in ("shared", "plays", "roster", "practice"):
        for path in (root / app).rglob("*.py"):
            if path == root / table or "migrations" in path.parts:
                continue
            for node in ast.walk(ast.parse(path.read_text("utf-8"))):
                if isinstance(node, ast.ImportFrom) and node.module == "reportlab.lib.colors":
                    assert {each.name for each in node.names} <= {"Color", "HexColor"}, path
                said = node.value if isinstance(node, ast.Constant) else None
                if isinstance(said, str):
                    assert not HEX.fullmatch(said), path
                    assert said not in {"white", "black", "grey", "gray"}, path


def test_pages_speak_of_colours_that_are_in_the_table() -> None:
    sheets = [path.read_text("utf-8") for path in STATIC.rglob("*.css")]
    said = {name for sheet in sheets for name in re.findall(r"var\(--([a-z-]+)", sheet)}
    signs = {name for sheet in sheets for name in re.findall(r'--([a-z-]+): ".";', sheet)}
    sizes = set(re.findall(r"--([a-z-]+):", (STATIC / "css" / "tokens.css").read_text("utf-8")))
    assert said <= COLOURS.keys() | sizes | signs
    assert COLOURS.keys() <= said


def test_the_mark_wears_the_accent() -> None:
    mark = (STATIC / "img" / "mark.svg").read_text("utf-8")
    assert set(HEX.findall(mark)) == {
        COLOURS["accent"].light,
        COLOURS["on-accent"].light,
    }


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


def test_a_narrower_phone_has_no_more_on_it() -> None:
    """At 320 px, axe is asked what measures places only (`tests/browser/accessibility.py`)."""
    asked = 0
    for path in (STATIC / "css").glob("*.css"):
        for edge, width, unit, rules in BY_WIDTH.findall(path.read_text("utf-8")):
            pixels = float(width) * (16 if unit == "rem" else 1)
            shown = set(re.findall(r"(?:display|visibility): ?([a-z-]+)", rules))
            if edge == "max" and pixels < 360:
                asked += 1
                assert shown <= {"none", "hidden"}, path.name
            elif edge == "min" and 320 < pixels <= 360:
                assert not shown & {"none", "hidden"}, path.name
    assert asked
