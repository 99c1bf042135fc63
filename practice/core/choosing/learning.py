"""What a play takes to learn, and what it takes less where one of its series is known.

The minutes are those of the install schedule: the reps, greedily chosen, that make the first
five ready by the date (``practice.core.install``, by the model of readiness). Plays of one
series share starts and roles: who stands where the other play starts them needs no walking
through for it. How much of the walk-throughs that saves, and what the other side costs, is our
choice.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from math import dist
from typing import Final

import numpy as np

from plays.core.play import ROLES, Play, Point
from practice.core.install.build import NothingToPlanError, model
from practice.core.install.getting_ready import minutes_to_ready
from practice.core.install.question import FIRSTS, Ask, Rules
from practice.core.reps.rep import Id

MOST: Final = 120.0  # minutes; a play that takes more is not for these practices
SAME_PLACE: Final = 1.0  # metres between two starts that count as one; ours


def minutes_to_learn(ask: Ask) -> Mapping[Id, float | None]:
    """Minutes by play until its first five are ready; None beyond MOST, or where nothing helps.

    Each play by itself, in the practices of the question, as if they had time enough.
    """
    try:
        model_ = model(replace(ask, units=(FIRSTS,), fixed=()))
    except NothingToPlanError:
        return {carried.play: None for carried in ask.plays}
    none = np.zeros(model_.shape, dtype=np.int64)
    cast = {k for k, _, _ in model_.cells}
    return {
        carried.play: minutes_to_ready(model_, none, k, MOST) if k in cast else None
        for k, carried in enumerate(ask.plays)
    }


def walking(rules: Rules) -> float:
    """Minutes of the walk-throughs with which a play is begun."""
    return rules.walk_first * rules.walk_minutes


def shared_starts(one: Play, other: Play) -> int:
    """How many of the five start in the same place in both, whichever side each is drawn for."""
    ours, theirs = _starts(one), _starts(other)
    return sum(
        role in ours and role in theirs and dist(ours[role], theirs[role]) <= SAME_PLACE
        for role in ROLES
    )


def saved_by(one: Play, other: Play, rules: Rules) -> float:
    """Minutes that ``one`` takes less where ``other`` is learnt before it; 0 in another series."""
    if not one.series or one.series != other.series:
        return 0.0
    return walking(rules) * shared_starts(one, other) / len(ROLES)


def _starts(play: Play) -> dict[str, Point]:
    """The starts with the throw-in on the right, so that near stays near."""
    turn = -1.0 if play.spot is not None and play.spot.side == "left" else 1.0
    return {start.role: Point(turn * start.at.x, start.at.y) for start in play.starts}
