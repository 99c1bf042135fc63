"""A cast for the whole package in a moment, within all limits: where the search begins.

Depth by depth and play by play, each five is one linear assignment (``five``) in which a player
is worth less the more slots and role numbers they have already, and those without any come
first. No search stands behind it, so a machine that has no time for one still proposes something
with a part for everybody.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from roster.core.cast import Cast
from roster.core.casting.five import FORBIDDEN, Numbers, fill, may_stand, place_locks
from roster.core.casting.question import CastingQuestion
from roster.core.casting.score import Filled, cast_of, nothing_filled, unit_members

_SHARE: Final = 1e-3  # between equals, who has the smaller part of their fair share


def whole_casting(question: CastingQuestion) -> Cast:
    """A cast within the limits of load, roles and fives. A slot that nobody may fill is a hole.

    Locks stand as far as they agree with each other and with the limits.
    """
    filled = nothing_filled(question)
    for play in range(len(question.plays)):
        place_locks(question, play, filled[:, play])
    by_weight = sorted(range(len(question.plays)), key=lambda j: -question.plays[j].priority)
    for depth in range(question.depth):
        for play in by_weight:
            worth = _worth(question, play, depth, filled)
            fill(question, depth, filled[:, play], worth, worth.copy())
    return cast_of(question, filled)


def _worth(question: CastingQuestion, play: int, depth: int, filled: Filled) -> Numbers:
    """(players, 5): what each adds to the score in each role of a five, given what is dealt."""
    wishes, fair = question.wishes, question.fair_shares()
    loads, roles = filled.sum(axis=(1, 2, 3)), filled.any(axis=(1, 3))
    in_play = filled[:, play].any(axis=(1, 2))
    by_load = wishes.uneven * (loads < np.floor(fair)) - wishes.uneven * (loads >= np.ceil(fair))
    by_load = by_load + wishes.left_out * (loads < question.least_slots())
    by_load = by_load - _SHARE * loads / np.maximum(fair, 1.0) - wishes.two_in_play * in_play
    if depth == 0:
        by_load[unit_members(question, play)] += wishes.outside_unit
    worth: Numbers = question.worth[:, play, :, depth] + by_load[:, None] - wishes.role * ~roles
    may = may_stand(question, play, depth, filled[:, play])
    may &= roles | (roles.sum(axis=1, keepdims=True) < question.most_roles()[:, None])
    may &= loads[:, None] < question.most_slots()[:, None]
    return np.where(may, worth, FORBIDDEN)
