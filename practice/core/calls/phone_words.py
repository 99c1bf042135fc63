"""The sentences of the cores that a phone says on the call sheet, by the names its script has."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from plays.core.calls import WITH_BOTH, WITH_NUMBER, WITH_ROLE
from practice.core.calls.ready import ALL_READY, NO_REPS, SOME_READY
from roster.core.coverage.floor_five import CHANGES, TAKES
from roster.core.coverage.why_not import FEW, NOBODY, NOBODY_THROWS, ONE_FOR_TWO
from shared.core.language import TWO_AND

PHONE_WORDS: Final[Mapping[str, str]] = {
    "with_number": WITH_NUMBER,
    "with_role": WITH_ROLE,
    "with_both": WITH_BOTH,
    "all_ready": ALL_READY,
    "some_ready": SOME_READY,
    "no_reps": NO_REPS,
    "takes": TAKES,
    "changes": CHANGES,
    "nobody": NOBODY,
    "nobody_throws": NOBODY_THROWS,
    "one_for_two": ONE_FOR_TWO,
    "few": FEW,
    "and": TWO_AND,
}
