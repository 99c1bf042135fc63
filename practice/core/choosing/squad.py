"""How well a squad suits a play: the fit of the first five and of who stands behind them."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from plays.core.play import ROLES
from practice.core.install.question import Rules
from roster.core.cast import Cast, PlayId, Slot, cast_of, slots
from roster.core.casting.question import CastingQuestion
from roster.core.casting.quick import quick_casting

FIVES = (1, 2)  # the depths that count: who plays, and who comes in


def likely_cast(question: CastingQuestion) -> Cast:
    """Each play's cast as it stands, where five stand first in it; else the best for it alone."""
    made = quick_casting(question).cast.by_slot()
    present = question.present.by_slot()
    whole = {
        play.id
        for play in question.plays
        if all(Slot(play.id, role, 1) in present for role in ROLES)
    }
    wanted = slots([play.id for play in question.plays], question.depth)
    filled = {slot: (present if slot.play in whole else made).get(slot) for slot in wanted}
    return cast_of({slot: who for slot, who in filled.items() if who is not None})


def suits_squad(question: CastingQuestion, cast: Cast, rules: Rules) -> Mapping[PlayId, float]:
    """From 0 to 1 by play: the mean fit by role, the second five counting as in installing.

    A role that nobody fills counts 0: a play without depth is worth less.
    """
    filled = cast.by_slot()
    weights = np.array([rules.depth_weight(depth) for depth in FIVES])
    found = {}
    for k, play in enumerate(question.plays):
        fits = np.zeros((len(FIVES), len(ROLES)))
        for (d, depth), (r, role) in (
            (at, of) for at in enumerate(FIVES) for of in enumerate(ROLES)
        ):
            who = filled.get(Slot(play.id, role, depth))
            if who in question.player_index:
                fits[d, r] = question.fits[question.player_index[who], k, r]
        found[play.id] = float(weights @ fits.mean(axis=1) / weights.sum())
    return found
