"""What a cast is worth, part by part, on the scale that casting maximises.

The integer programme and this count must agree; it also judges a cast made by hand.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES
from roster.core.cast import Cast
from roster.core.casting.question import CastingQuestion

Filled = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class CastScore:
    """Sums over the package. Only ``worth`` adds; the rest is taken off.

    ``worth`` is fit by depth and priority, with what is kept and learnt already.
    """

    worth: float
    roles: float
    uneven: float
    left_out: float
    two_in_play: float
    outside_unit: float
    holes: float

    @property
    def total(self) -> float:
        taken = (
            self.roles
            + self.uneven
            + self.left_out
            + self.two_in_play
            + self.outside_unit
            + self.holes
        )
        return self.worth - taken


def score(question: CastingQuestion, cast: Cast) -> CastScore:
    """The score of a cast. Slots outside the question count for nothing."""
    filled = filled_array(question, cast)
    wishes = question.wishes
    loads = filled.sum(axis=(1, 2, 3))
    fair = question.fair_shares()
    uneven = np.maximum(loads - np.ceil(fair), 0) + np.maximum(np.floor(fair) - loads, 0)
    left_out = np.maximum(question.least_slots() - loads, 0)
    in_play = filled.sum(axis=(2, 3))
    return CastScore(
        worth=float((question.worth * filled).sum()),
        roles=wishes.role * float(filled.any(axis=(1, 3)).sum()),
        uneven=wishes.uneven * float(uneven.sum()),
        left_out=wishes.left_out * float(left_out.sum()),
        two_in_play=wishes.two_in_play * float(np.maximum(in_play - 1, 0).sum()),
        outside_unit=wishes.outside_unit * float(missing_from_units(question, filled).sum()),
        holes=wishes.hole * float((~filled.any(axis=0)).sum()),
    )


def filled_array(question: CastingQuestion, cast: Cast) -> Filled:
    """(players, plays, 5, depth) bool."""
    shape = (len(question.players), len(question.plays), len(ROLES), question.depth)
    filled = np.zeros(shape, dtype=np.bool_)
    for a in cast.assignments:
        known = a.player in question.player_index and a.play in question.play_index
        if known and a.depth <= question.depth:
            player, play = question.player_index[a.player], question.play_index[a.play]
            filled[player, play, ROLES.index(a.role), a.depth - 1] = True
    return filled


def unit_members(question: CastingQuestion, play: int) -> list[int]:
    """The rows of a play's unit members who can play."""
    return [
        question.player_index[player]
        for player in dict.fromkeys(question.plays[play].unit)
        if player in question.player_index
        and question.players[question.player_index[player]].can_play
    ]


def missing_from_units(question: CastingQuestion, filled: Filled) -> NDArray[np.int64]:
    """(plays,): how many of the first five are not from the play's unit and could be."""
    missing = np.zeros(len(question.plays), dtype=np.int64)
    for play in range(len(question.plays)):
        members = unit_members(question, play)
        wanted = min(len(ROLES), len(members))
        missing[play] = max(0, wanted - int(filled[members, play, :, 0].sum()))
    return missing
