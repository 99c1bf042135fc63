"""A line as a phone leaves it is read as it was meant; what stands in quotation marks is a text."""

from __future__ import annotations

import pytest

from plays.core.shorthand.typed import typed


@pytest.mark.parametrize(
    ("line", "read"),
    [
        ("4 Screens for 5.", "4 screens for 5"),
        ("5’s cut .", "5's cut"),
        ("“Harbour Light”", '"Harbour Light"'),
        ("“”", '""'),
        ("«¿Listo?» A", '"¿Listo?" a'),
        ('"Stop."', '"Stop."'),
        ('say "Go." .', 'say "Go."'),
        ("“never closed", "“never closed"),
    ],
)
def test_a_line_is_straightened_and_its_texts_are_kept(line: str, read: str) -> None:
    assert typed(line) == read
