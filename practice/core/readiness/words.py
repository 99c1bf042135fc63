"""A chance in words: how often of a hundred times."""

from __future__ import annotations

from typing import Final

from practice.core.readiness.cell import hundredths
from shared.core.language import N_, Language

ALL_FIVE: Final = N_("all five right about {n} times in 100")
SELDOM: Final = N_("all five right less than once in 100")


def in_hundred(chance: float, language: Language) -> str:
    """The chance that a whole five does it right, in words."""
    times = hundredths(chance)
    return language.say(ALL_FIVE, n=times) if times > 1 else language.say(SELDOM)
