"""Which fives a coach would usually send out: those that fill the five usual positions.

A five counts when its players can be matched to the positions 1 to 5 so that each stands in one
of their own; who has no usual position fits any. Which fives to count is our own choice.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

import numpy as np

from plays.core.play import ROLES, Role
from roster.core.cast import PlayerId
from roster.core.coverage.fives import ON_FLOOR, membership
from roster.core.coverage.matching import Known, coverage


def usual_fives(
    players: Sequence[PlayerId], positions: Mapping[PlayerId, Collection[Role]]
) -> Known:
    """(fives,) bool: the fives whose players fill the usual positions."""
    fits = np.array(
        [[role in (positions.get(player) or ROLES) for role in ROLES] for player in players],
        dtype=np.bool_,
    ).reshape(len(players), 1, len(ROLES))
    return coverage(fits)[:, 0]


def named_fives(players: Sequence[PlayerId], units: Sequence[Collection[PlayerId]]) -> Known:
    """(fives,) bool: the fives that are units of the coach."""
    inside = membership(len(players))
    counted: Known = np.zeros(len(inside), dtype=np.bool_)
    for unit in units:
        columns = [index for index, player in enumerate(players) if player in unit]
        if len(columns) == len(unit) == ON_FLOOR:
            counted |= inside[:, columns].all(axis=1)
    return counted
