"""One term of the trade."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class TradeTerm:
    """A word of the trade, what it means, and the plain sentence for each that says it."""

    word: str
    meaning: str
    instead: Mapping[str, str] = field(repr=False)
