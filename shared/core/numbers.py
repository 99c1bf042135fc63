"""Whole numbers: read from what people and machines send, and shares as people read them."""

from __future__ import annotations

import math
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


def hundredths(share: float) -> int:
    """A share of 1 in hundredths, rounded down, so that nothing shows a bar that is above it.

    What stands on a bar shows it: 0.29 is 29, though 100 * 0.29 is a hair less in binary.
    """
    return math.floor(100 * share + 1e-9)
