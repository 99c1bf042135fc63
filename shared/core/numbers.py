"""Whole numbers in what people and machines send: read without trusting a digit of it."""

from __future__ import annotations

from typing import Final

LARGEST: Final = 2**63 - 1  # what a database row can have as its key, and no more


def whole_number(text: object) -> int | None:
    """The number from 0 to 2**63 - 1 that a text of plain digits says; None for all else.

    ``str.isdigit`` lets "²" through, and ``int`` refuses what has too many digits.
    """
    if not isinstance(text, str) or not text.isascii() or not text.isdigit() or len(text) > 19:
        return None
    number = int(text)
    return number if number <= LARGEST else None
