"""How the depths of a role are said: one place, so that every sentence says them alike."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from shared.core.language import N_

DEPTHS_IN_WORDS: Final[Mapping[int, str]] = {1: N_("first"), 2: N_("second"), 3: N_("third")}
