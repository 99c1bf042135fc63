"""Numbers in what is sent: a text that is no plain number is None, never an error."""

from __future__ import annotations

from decimal import ROUND_FLOOR, Decimal

import pytest

from shared.core.numbers import hundredths, whole_number

LARGEST = 9223372036854775807  # of a signed 64-bit integer: SQLite's documentation, "Rowid Tables"


@pytest.mark.parametrize(("text", "number"), [("0", 0), ("007", 7), (str(LARGEST), LARGEST)])
def test_plain_digits(text: str, number: int) -> None:
    assert whole_number(text) == number


@pytest.mark.parametrize(
    "text", ["", "²", "٣", "-1", "+1", "1.0", " 1", "1_0", "9" * 5000, str(LARGEST + 1), None, 7]
)
def test_anything_else_is_none(text: object) -> None:
    assert whole_number(text) is None


@pytest.mark.parametrize("thousandths", range(1001))
def test_a_share_is_told_in_hundredths_rounded_down(thousandths: int) -> None:
    """By decimal arithmetic, in which 0.29 is 0.29 (IBM's General Decimal Arithmetic)."""
    exact = (Decimal(thousandths) / 10).quantize(Decimal(1), rounding=ROUND_FLOOR)
    assert hundredths(thousandths / 1000) == int(exact)


def test_what_is_a_hair_below_a_bar_is_below_it() -> None:
    assert hundredths(0.8999999) == 89
    assert hundredths(0.9) == 90
