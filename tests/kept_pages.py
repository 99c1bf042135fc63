"""Printed pages that somebody has looked at, kept beside their tests as lines of text.

A page is read back by pypdf, which did not write it: each piece of lettering with its place and
size, and each line, box and paint as it is set. See `tests/kept.py` for how one is kept anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Final

from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

from tests.kept import assert_same

# Paths, how they are painted, and what moves them; lettering is told in words.
SIGNS: Final = "m l c h re w d J j S s f f* B b n W rg RG g G cm q Q Do"
DRAWN: Final = frozenset(SIGNS.split())


def assert_pages_kept(pdf: PdfReader, test: str, name: str) -> None:
    """That all pages are set as those kept beside a test file, but for the last digit."""
    lines = [line for page in pdf.pages for line in ("", *_lettering(page), *_drawn(page, pdf))]
    assert_same("\n".join(lines).lstrip() + "\n", test, f"{name}.txt")


def _lettering(page: PageObject) -> list[str]:
    found: list[str] = []

    def visit(text: str, cm: list[float], tm: list[float], font: Any, size: float) -> None:
        if text.strip():
            x, y = tm[4] * cm[0] + cm[4], tm[5] * cm[3] + cm[5]
            bold = " bold" if font and "Bold" in font["/BaseFont"] else ""
            found.append(f"{x:.2f} {y:.2f} in {size * cm[0] * tm[0]:.2f}{bold}: {text.strip()}")

    page.extract_text(visitor_text=visit)
    return found


def _drawn(page: PageObject, pdf: PdfReader) -> Iterator[str]:
    for operands, operator in ContentStream(page.get_contents(), pdf).operations:
        if operator.decode() in DRAWN:
            yield " ".join([operator.decode(), *map(_said, operands)])


def _said(operand: Any) -> str:
    if isinstance(operand, list):
        return "[" + " ".join(map(_said, operand)) + "]"
    return f"{float(operand):.2f}" if isinstance(operand, (int, float)) else str(operand)
