"""Templates are read by people: no line is wider than a screen."""

from __future__ import annotations

from pathlib import Path

import pytest

TEMPLATES = Path(__file__).resolve().parents[2] / "templates"
WIDEST = 120  # characters


@pytest.mark.parametrize(
    "path", sorted(TEMPLATES.rglob("*.html")), ids=lambda path: str(path.relative_to(TEMPLATES))
)
def test_no_line_is_wider_than_a_screen(path: Path) -> None:
    lines = path.read_text("utf-8").splitlines()
    assert [number for number, line in enumerate(lines, 1) if len(line) > WIDEST] == []
