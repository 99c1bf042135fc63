"""What casting needs to know of a player, and nothing else about them.

Ratings are whole numbers from 1 to 5 and may be missing. Reach is never rated by hand: it follows
from height in centimetres, by the means of the studies named below.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

from plays.core.play import AgeGroup, Quality, Role
from roster.core.cast import PlayerId

RATINGS: Final = (1, 2, 3, 4, 5)
RATED: Final = (
    Quality.PASSING,
    Quality.STRENGTH,
    Quality.SPEED,
    Quality.FINISHING,
    Quality.SHOOTING,
    Quality.SCREENING,
    Quality.READING,
)
"""The qualities that a coach rates; reach follows from height."""

HEIGHTS_CM: Final = (90, 240)

REACH_TO_HEIGHT: Final = 1.33
"""Standing reach over height: 1.335, 1.333, 1.331 for girls U13, U14, U15 in the means of
Gryko et al. 2022, BMC Sports Sci Med Rehabil 14:21; taken as 1.33 for everybody."""

REACH_MIDDLE: Final[Mapping[AgeGroup, float]] = {
    AgeGroup.U10: 1.84,
    AgeGroup.U12: 2.00,
    AgeGroup.U14: 2.22,
    AgeGroup.U16: 2.27,
    AgeGroup.U18: 2.36,
    AgeGroup.ADULT: 2.45,
}
"""The standing reach in metres that counts as 3 of 5 in a group. U14 is anchored on Gryko 2022
(girls, means of 2.206 to 2.235 m); the other groups are our own choice, between girls and boys."""

REACH_STEP: Final = 0.10
"""Metres of reach from one rating to the next: our own choice, 7.5 cm of height."""


class Availability(StrEnum):
    """Whether a player can take part: never a diagnosis."""

    AVAILABLE = "available"
    LIMITED = "limited"
    OUT = "out"  # until cleared


class BadRatingError(ValueError):
    """A rating that is not 1, 2, 3, 4, 5 or None."""


@dataclass(frozen=True, slots=True)
class Player:
    """One player as casting sees them. A rating that is missing or None is unknown.

    ``positions`` are the usual ones, by the numbers of the trade: 1 point guard to 5 centre.
    """

    id: PlayerId
    ratings: Mapping[Quality, int | None] = field(default_factory=dict)
    height_cm: int | None = None
    availability: Availability = Availability.AVAILABLE
    positions: tuple[Role, ...] = ()

    def __post_init__(self) -> None:
        for quality, rating in self.ratings.items():
            if rating is not None and rating not in RATINGS:
                raise BadRatingError(f"{quality} of player {self.id}: {rating} is not 1 to 5")

    @property
    def can_play(self) -> bool:
        return self.availability is not Availability.OUT

    def rating(self, quality: Quality, group: AgeGroup) -> int | None:
        """1 to 5, or None where it is not known; reach follows from height."""
        if quality is Quality.REACH:
            return reach_rating(self.height_cm, group)
        return self.ratings.get(quality)


def standing_reach(height_cm: float) -> float:
    """Metres from the floor to the fingertips of a player who stands with an arm raised."""
    return REACH_TO_HEIGHT * height_cm / 100


def reach_rating(height_cm: float | None, group: AgeGroup) -> int | None:
    """Reach on the scale of the ratings, among players of one age group."""
    if height_cm is None:
        return None
    steps = round((standing_reach(height_cm) - REACH_MIDDLE[group]) / REACH_STEP)
    return max(RATINGS[0], min(RATINGS[-1], 3 + steps))
