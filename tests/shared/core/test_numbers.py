"""Numbers in what is sent: a text that is no plain number is None, never an error."""

from __future__ import annotations

import pytest

from shared.core.numbers import whole_number

LARGEST = 9223372036854775807  # of a signed 64-bit integer: SQLite's documentation, "Rowid Tables"


@pytest.mark.parametrize(("text", "number"), [("0", 0), ("007", 7), (str(LARGEST), LARGEST)])
def test_plain_digits(text: str, number: int) -> None:
    assert whole_number(text) == number


@pytest.mark.parametrize(
    "text", ["", "²", "٣", "-1", "+1", "1.0", " 1", "1_0", "9" * 5000, str(LARGEST + 1), None, 7]
)
def test_anything_else_is_none(text: object) -> None:
    assert whole_number(text) is None
