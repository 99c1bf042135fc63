"""What occasions and bars are called, by themselves and in a sentence."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import Final

from practice.core.choosing.question import Occasion, RuledOut
from shared.core.language import N_, Language

OCCASIONS: Final[Mapping[Occasion, str]] = MappingProxyType(
    {
        Occasion.LEFT: N_("Left sideline"),
        Occasion.RIGHT: N_("Right sideline"),
        Occasion.BASELINE: N_("Baseline"),
        Occasion.PRESSURE: N_("Against pressure"),
        Occasion.LAST_SHOT: N_("Last shot"),
        Occasion.HALF_COURT: N_("Half court"),
        Occasion.AFTER_TIMEOUT: N_("After a time-out"),
    }
)
AT: Final[Mapping[Occasion, str]] = MappingProxyType(
    {
        Occasion.LEFT: N_("on the left sideline"),
        Occasion.RIGHT: N_("on the right sideline"),
        Occasion.BASELINE: N_("on the baseline"),
        Occasion.PRESSURE: N_("against pressure"),
        Occasion.LAST_SHOT: N_("for the last shot"),
        Occasion.HALF_COURT: N_("in the half court"),
        Occasion.AFTER_TIMEOUT: N_("after a time-out"),
    }
)
BARS: Final[Mapping[RuledOut, str]] = MappingProxyType(
    {
        RuledOut.LEVEL: N_("meant for older players"),
        RuledOut.SERIOUS: N_("the check finds something serious, whatever the defence does"),
        RuledOut.UNCHECKED: N_("not checked yet"),
        RuledOut.NO_FIVE: N_("there are not five players for it"),
        RuledOut.TIME: N_("the practices left do not make its five ready"),
    }
)


def all_at(occasions: Iterable[Occasion], language: Language) -> str:
    """Occasions in a sentence: "on the baseline and against pressure"."""
    return language.all_of([language.say(AT[each]) for each in occasions])
