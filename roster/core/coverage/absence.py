"""How much of game time each play can be run in, and what is lost when somebody is out.

Coverage is a part of game time, 0 to 1: the expected share of the fives that can run a play.
With somebody out, the other fives are scaled up to the whole game, so that an absence is
charged with what the others cannot make up for, and not with the time played itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

import numpy as np

from roster.core.cast import PlayerId, PlayId
from roster.core.coverage.fives import membership
from roster.core.coverage.matching import Known
from roster.core.coverage.squad import Squad
from roster.core.coverage.weights import Numbers

FELT: Final = 0.005  # of game time: half of what is shown


@dataclass(frozen=True, slots=True, eq=False)
class Covered:
    """Coverage of each play (plays,), and of the package, the plays weighed by importance."""

    plays: tuple[PlayId, ...]
    shares: Numbers
    package: float
    nobody: tuple[PlayId, ...]
    """Plays that no five at all can run."""

    def share(self, play: PlayId) -> float:
        return float(self.shares[self.plays.index(play)])


@dataclass(frozen=True, slots=True, eq=False)
class AbsenceCost:
    """What the package loses when these players are out.

    ``lost`` is the part of game time by which coverage of the package falls (below 0: it
    rises), ``broken`` the plays that nobody could run any more and somebody can now.
    """

    out: tuple[PlayerId, ...]
    covered: Covered
    lost: float
    broken: tuple[PlayId, ...]

    @property
    def is_felt(self) -> bool:
        """Whether it shows in hundredths, or somebody is the only one for a play."""
        return self.lost >= FELT or bool(self.broken)


def covered(squad: Squad, out: Sequence[PlayerId] = ()) -> Covered:
    """Coverage, with some players out."""
    return _covered(squad, squad.runnable(), tuple(out))


def absences(squad: Squad, size: int = 1) -> tuple[AbsenceCost, ...]:
    """Every player out in turn, or with ``size`` 2 every pair; the greatest loss first.

    Equal losses come in the order of the squad.
    """
    runnable = squad.runnable()
    whole = _covered(squad, runnable, ())
    found = [_absence(squad, runnable, whole, out) for out in combinations(squad.players, size)]
    return tuple(sorted(found, key=lambda absence: -round(absence.lost, 12)))


def _absence(
    squad: Squad, runnable: Known, whole: Covered, out: tuple[PlayerId, ...]
) -> AbsenceCost:
    without = _covered(squad, runnable, out)
    broken = tuple(play for play in without.nobody if play not in whole.nobody)
    return AbsenceCost(out, without, whole.package - without.package, broken)


def _covered(squad: Squad, runnable: Known, out: tuple[PlayerId, ...]) -> Covered:
    weights = squad.floor.without(*out)
    shares = weights @ runnable
    possible = np.asarray(runnable[_fives_without(squad, out)].any(axis=0))
    nobody = tuple(play for play, some in zip(squad.plays, possible, strict=True) if not some)
    return Covered(squad.plays, shares, mean_of(shares, squad.importance), nobody)


def _fives_without(squad: Squad, out: tuple[PlayerId, ...]) -> Known:
    away = [squad.players.index(player) for player in out if player in squad.players]
    inside = np.asarray(membership(len(squad.players))[:, away].any(axis=1))
    return np.asarray(~inside & squad.floor.allowed)


def mean_of(shares: Numbers, importance: Numbers) -> float:
    """The mean by importance; 0 where nothing counts."""
    total = float(importance.sum())
    return float(shares @ importance) / total if total > 0 else 0.0
