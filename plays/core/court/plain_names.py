"""The places of ``spot_names`` in plain words, for teams that do not speak the trade's.

A place that is missing here has a plain name already: the corner, the top, the centre circle.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from plays.core.court.spot_names import SideNames
from shared.core.language import N_

PLAIN_SIDE_NAMES: Final[Mapping[str, SideNames]] = MappingProxyType(
    {
        "block": SideNames(
            N_("the low part of the left lane line"),
            N_("the low part of the right lane line"),
            N_("the low part of the near lane line"),
            N_("the low part of the far lane line"),
        ),
        "mid_post": SideNames(
            N_("the middle of the left lane line"),
            N_("the middle of the right lane line"),
            N_("the middle of the near lane line"),
            N_("the middle of the far lane line"),
        ),
        "elbow": SideNames(
            N_("the left end of the free-throw line"),
            N_("the right end of the free-throw line"),
            N_("the near end of the free-throw line"),
            N_("the far end of the free-throw line"),
        ),
        "dunker": SideNames(
            N_("the baseline spot to the left of the lane"),
            N_("the baseline spot to the right of the lane"),
            N_("the baseline spot on the near side of the lane"),
            N_("the baseline spot on the far side of the lane"),
        ),
        "short_corner": SideNames(
            N_("the baseline spot half-way to the left corner"),
            N_("the baseline spot half-way to the right corner"),
            N_("the baseline spot half-way to the near corner"),
            N_("the baseline spot half-way to the far corner"),
        ),
        "wing": SideNames(
            N_("the left side of the arc"),
            N_("the right side of the arc"),
            N_("the near side of the arc"),
            N_("the far side of the arc"),
        ),
        "slot": SideNames(
            N_("the arc left of the top"),
            N_("the arc right of the top"),
            N_("the arc on the near side of the top"),
            N_("the arc on the far side of the top"),
        ),
        "hash": SideNames(
            N_("the left sideline, up by the top"),
            N_("the right sideline, up by the top"),
            N_("the near sideline, up by the top"),
            N_("the far sideline, up by the top"),
        ),
        "back_hash": SideNames(
            N_("the left sideline in our own half"),
            N_("the right sideline in our own half"),
            N_("the near sideline in our own half"),
            N_("the far sideline in our own half"),
        ),
        "back_wing": SideNames(
            N_("the left side of our own arc"),
            N_("the right side of our own arc"),
            N_("the near side of our own arc"),
            N_("the far side of our own arc"),
        ),
        "back_elbow": SideNames(
            N_("the left end of our own free-throw line"),
            N_("the right end of our own free-throw line"),
            N_("the near end of our own free-throw line"),
            N_("the far end of our own free-throw line"),
        ),
        "back_block": SideNames(
            N_("the left side of our own lane"),
            N_("the right side of our own lane"),
            N_("the near side of our own lane"),
            N_("the far side of our own lane"),
        ),
    }
)
PLAIN_MIDDLE_NAMES: Final[Mapping[str, str]] = MappingProxyType(
    {
        "nail": N_("the middle of the free-throw line"),
        "back_nail": N_("the middle of our own free-throw line"),
    }
)
