"""Who stands on the floor for a play when some of its first players cannot: the next in depth.

The first five of a play is the filling with the greatest sum of worth by depth (``squad``'s
DEPTH_WORTH), so that the cast, the sheets and the five on the floor tell one story: a role
falls to its next in depth, and somebody moves from another role only where that fills more.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping

from plays.core.play import ROLES, Role
from roster.core.cast import Assignment, Cast, PlayerId, PlayId
from roster.core.coverage.squad import DEPTH_WORTH


def first_five(cast: Cast, play: PlayId, out: Collection[PlayerId] = ()) -> dict[Role, PlayerId]:
    """The first five of a play without those who are out; a role that nobody can fill is missing.

    As many roles as can be filled are; equal fillings go to the earlier player of the earlier
    role.
    """
    return five_of([a for a in cast.assignments if a.play == play], out)


def five_of(
    assignments: Collection[Assignment], out: Collection[PlayerId] = ()
) -> dict[Role, PlayerId]:
    """As ``first_five``, from the assignments of one play."""
    able = {
        role: [
            (a.depth, a.player)
            for a in sorted(assignments, key=lambda a: a.depth)
            if a.role == role and a.player not in out
        ]
        for role in ROLES
    }
    firsts = {role: who[0][1] for role, who in able.items() if who and who[0][0] == 1}
    if len(set(firsts.values())) == len(ROLES):
        return firsts
    return _best(0, able, frozenset())[1]


def _best(
    at: int,
    able: Mapping[Role, list[tuple[int, PlayerId]]],
    taken: frozenset[PlayerId],
) -> tuple[tuple[int, float], dict[Role, PlayerId]]:
    """The best filling of the roles from ``at`` on: (roles filled, sum of worth), and who."""
    if at == len(ROLES):
        return (0, 0.0), {}
    role = ROLES[at]
    best = _best(at + 1, able, taken)  # left open: that may let two others be filled
    for depth, player in reversed(able[role]):
        if player in taken:
            continue
        (filled, worth), five = _best(at + 1, able, taken | {player})
        found = (filled + 1, round(worth + DEPTH_WORTH[depth - 1], 9))
        if found >= best[0]:
            best = found, {role: player, **five}
    return best
