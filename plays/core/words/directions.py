"""The main direction of a short way, for people who face the basket. Metres as in ``play``."""

from __future__ import annotations

from plays.core.play import Point
from plays.core.words.facts import Toward


def toward(here: Point, there: Point, half: float) -> Toward:
    """The main direction of a short way, as seen facing the basket."""
    across, up = there.x - here.x, there.y - here.y
    if across == up == 0:
        return ""
    if abs(across) > abs(up):
        return "right" if across > 0 else "left"
    beyond = min(here.y, there.y) >= half
    if up > 0:
        return "own" if beyond else "half"
    return "half" if beyond else "baseline"
