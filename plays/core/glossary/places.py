"""Places in the trade's terms, and what beginners call them."""

from __future__ import annotations

from typing import Final

from plays.core.court.plain_names import PLAIN_MIDDLE_NAMES, PLAIN_SIDE_NAMES
from plays.core.court.spot_names import MIDDLE_NAMES, SIDE_NAMES
from plays.core.glossary.term import TradeTerm
from shared.core.language import N_


def _place(name: str) -> dict[str, str]:
    """The plain name of each name of a place, in our half and in the other."""
    sides = {
        said: plain
        for key in (name, f"back_{name}")
        if key in PLAIN_SIDE_NAMES
        for said, plain in zip(
            SIDE_NAMES[key].all_four(), PLAIN_SIDE_NAMES[key].all_four(), strict=True
        )
    }
    middle = (key for key in (name, f"back_{name}") if key in PLAIN_MIDDLE_NAMES)
    return sides | {MIDDLE_NAMES[key]: PLAIN_MIDDLE_NAMES[key] for key in middle}


PLACES: Final = (
    TradeTerm(
        N_("block"),
        N_("The mark on the side of the lane, close to the basket."),
        _place("block"),
    ),
    TradeTerm(
        N_("mid-post"),
        N_("The side of the lane, half-way from the block to the elbow."),
        _place("mid_post"),
    ),
    TradeTerm(
        N_("elbow"),
        N_("The corner where the free-throw line meets the side of the lane."),
        _place("elbow"),
    ),
    TradeTerm(N_("nail"), N_("The middle of the free-throw line."), _place("nail")),
    TradeTerm(N_("dunker spot"), N_("Next to the lane, low, by the baseline."), _place("dunker")),
    TradeTerm(
        N_("short corner"),
        N_("By the baseline, half-way from the lane to the corner."),
        _place("short_corner"),
    ),
    TradeTerm(
        N_("slot"),
        N_("Out behind the arc, straight up from the side of the lane."),
        _place("slot"),
    ),
    TradeTerm(
        N_("wing"),
        N_("Out behind the arc, at the side, as far up as the free-throw line."),
        _place("wing"),
    ),
    TradeTerm(N_("hash"), N_("Close to the sideline, some steps above the wing."), _place("hash")),
)
