"""The short cautions that stand beside a practice plan, a live block, and a print.

The app decides nothing about anybody's health: it reminds, and defers to local rules and
licensed advice. No heat limit is written here because the published tables disagree.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from shared.core.language import N_


@dataclass(frozen=True, slots=True)
class Caution:
    code: str
    sentence: str  # a template without slots
    source: str


HEAD: Final = Caution(
    "head",
    N_("Head knock? Out for the day, and back only when a health-care professional clears it."),
    "CDC HEADS UP action plan; Concussion Recognition Tool 5 (2017)",
)
HEAT: Final = Caution(
    "heat",
    N_("Hot hall? Follow your local heat policy; plan water and rest breaks."),
    "NATA exertional heat illness statements; local policy comes first",
)
EMERGENCY: Final = Caution(
    "emergency",
    N_("Know the emergency action plan and where the AED is before practice begins."),
    "NATA position statement 2024, J Athl Train 59(6):570",
)
AVAILABILITY: Final = Caution(
    "availability",
    N_("Limited or out until cleared: this app does not decide on a return to play."),
    "Concussion Recognition Tool 5 (2017)",
)
LOCAL: Final = Caution(
    "local",
    N_("Local rules and licensed advice come first."),
    "common practice, no source",
)

FOR_PLAN: Final = (EMERGENCY, HEAT, HEAD, LOCAL)
FOR_LIVE: Final = (HEAD, AVAILABILITY, LOCAL)
