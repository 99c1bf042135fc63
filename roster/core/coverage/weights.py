"""How often each floor five is expected, from how long each player is expected to play.

The weights are those of conditional Poisson sampling: of all ways to spread game time over the
fives that give each player their minutes, the one that presumes least (maximum entropy). A
five's weight is proportional to the product of its players' odds (Chen, Dempster & Liu 1994,
Biometrika 81:457). The odds are found here by Newton's method on the convex dual, over the
listed fives rather than by the paper's recursion, so that fives which a coach rules out can
be left out.

Shares are parts of game time, 0 to 1, and sum to five over a team.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from roster.core.cast import PlayerId
from roster.core.coverage.fives import ON_FLOOR, membership

Numbers = NDArray[np.float64]

REACHED: Final = 1e-6  # a share this close to the one asked for counts as reached
_STEPS: Final = 200
_EXACT: Final = 1e-13
_LONGEST_STEP: Final = 3.0  # in log odds: keeps the first steps inside what exp can hold
_GIVE: Final = 1e-3


class BadMinutesError(ValueError):
    """Minutes that are negative or that nobody has."""


@dataclass(frozen=True, slots=True, eq=False)
class Floor:
    """A team's fives and how often each is expected.

    ``weights`` (fives,) sum to 1, or are all 0 where no five is allowed; ``shares`` (n,) is the
    part of game time that each player was to have, ``given`` (n,) the part they get. The two
    differ only where the fives ruled out leave no other way. ``allowed`` (fives,) is false for
    the fives ruled out.
    """

    players: tuple[PlayerId, ...]
    weights: Numbers
    shares: Numbers
    given: Numbers
    allowed: NDArray[np.bool_]

    @property
    def off_by(self) -> float:
        """The greatest part of game time by which a player's share is missed."""
        return float(np.abs(self.given - self.shares).max(initial=0.0))

    def without(self, *out: PlayerId) -> Numbers:
        """(fives,): the weights when these players are out: the other fives, scaled up to 1.

        All allowed fives without them count alike when none of these was ever expected.
        """
        away = [index for index, player in enumerate(self.players) if player in out]
        left = ~membership(len(self.players))[:, away].any(axis=1)
        weights: Numbers = np.where(left, self.weights, 0.0)
        if weights.sum() <= 0:
            weights = np.asarray(left & self.allowed, dtype=np.float64)
        return scaled(weights)


def floor(
    players: Sequence[PlayerId],
    minutes: Mapping[PlayerId, float] | None = None,
    never_together: Iterable[Iterable[PlayerId]] = (),
    only: NDArray[np.bool_] | None = None,
) -> Floor:
    """The floor of a team. A player without minutes gets the mean of those given.

    ``never_together`` holds groups; a five that contains all of one group is ruled out, and so
    is one that is not in ``only`` (fives,), where that is given.
    Raises BadMinutesError.
    """
    shares = shares_of(players, minutes or {})
    allowed = _allowed(players, never_together)
    if only is not None:
        allowed = allowed & only
    weights = _entropy_weights(shares, allowed)
    given: Numbers = np.asarray(weights @ membership(len(players)))
    return Floor(tuple(players), weights, shares, given, allowed)


def shares_of(players: Sequence[PlayerId], minutes: Mapping[PlayerId, float]) -> Numbers:
    """(n,): each player's part of game time, at most 1, summing to five where five play.

    Minutes are a proportion: 20 each and 40 each say the same.
    """
    given = [minutes[player] for player in players if player in minutes]
    if any(not (0 <= value < np.inf) for value in given):
        raise BadMinutesError("minutes must be numbers from 0 up")
    usual = sum(given) / len(given) if given else 1.0
    wanted = np.array([minutes.get(player, usual) for player in players], dtype=np.float64)
    if len(wanted) and wanted.sum() <= 0:
        raise BadMinutesError("somebody must have minutes")
    return _capped(wanted)


def scaled(weights: Numbers) -> Numbers:
    """The weights, summing to 1; left alone where all are 0."""
    total = float(weights.sum())
    return weights / total if total > 0 else weights


def _capped(wanted: Numbers) -> Numbers:
    """Scale to a sum of five; what is above 1 goes to the others, in proportion."""
    places = min(ON_FLOOR, len(wanted))
    shares = np.zeros_like(wanted)
    full = np.zeros(len(wanted), dtype=np.bool_)
    for _ in range(len(wanted) + 1):
        open_minutes = wanted[~full].sum()
        rest = places - full.sum()
        shares[full] = 1.0
        if open_minutes <= 0:
            shares[~full] = rest / max(1, (~full).sum())
        else:
            shares[~full] = wanted[~full] * (rest / open_minutes)
        if not (shares[~full] > 1).any():
            break
        full |= shares > 1
    return shares


def _allowed(
    players: Sequence[PlayerId], groups: Iterable[Iterable[PlayerId]]
) -> NDArray[np.bool_]:
    inside = membership(len(players))
    allowed = np.ones(len(inside), dtype=np.bool_)
    for group in groups:
        wanted = set(group)
        columns = [index for index, player in enumerate(players) if player in wanted]
        if len(columns) == len(wanted) > 0:
            allowed &= ~inside[:, columns].all(axis=1)
    return allowed


def _entropy_weights(shares: Numbers, allowed: NDArray[np.bool_]) -> Numbers:
    """Newton's method on log(sum of exp) minus the shares, with the step halved as needed.

    Those who always or never play are settled first: their odds would be without bound.
    """
    inside = membership(len(shares))
    settled = (shares >= 1 - 1e-12) | (shares <= 1e-12)
    possible = allowed & (inside[:, settled] == (shares[settled] > 0.5)).all(axis=1)
    rows = np.flatnonzero(possible if possible.any() else allowed)
    weights = np.zeros(len(inside))
    if not len(rows):
        return weights
    possible_fives = inside[rows].astype(np.float64)
    weights[rows] = _tilted(possible_fives, shares)
    if np.abs(weights @ inside - shares).max() > REACHED:
        weights[rows] = _tilted(possible_fives, shares, give=_GIVE)
    return weights


def _tilted(inside: Numbers, shares: Numbers, give: float = 0.0) -> Numbers:
    """The weights at the least of log(sum of exp(heights)) - shares * log odds + give/2 * square.

    With ``give`` above 0 there is a least even where the shares cannot be had: then shares are
    missed by give * log odds, so that the sum of squares missed is small.
    """
    log_odds = np.zeros(len(shares))
    value, weights = _dual(inside, shares, log_odds, give)
    for _ in range(_STEPS):
        missing = shares - weights @ inside - give * log_odds
        if np.abs(missing).max() < _EXACT:
            break
        mean = weights @ inside
        spread = (inside * weights[:, None]).T @ inside - np.outer(mean, mean)
        ridge = (give + 1e-12) * np.eye(len(shares))
        step = np.linalg.lstsq(spread + ridge, missing, rcond=1e-11)[0]
        step *= min(1.0, _LONGEST_STEP / max(1e-300, float(np.abs(step).max())))
        for _halving in range(30):
            trial, tilted = _dual(inside, shares, log_odds + step, give)
            if trial <= value + 1e-15:
                break
            step /= 2
        else:
            break
        log_odds, value, weights = log_odds + step, trial, tilted
    return weights


def _dual(
    inside: Numbers, shares: Numbers, log_odds: Numbers, give: float
) -> tuple[float, Numbers]:
    heights = inside @ log_odds
    top = heights.max()
    grown = np.exp(heights - top)
    total = grown.sum()
    value = top + np.log(total) - shares @ log_odds + give / 2 * (log_odds @ log_odds)
    return float(value), grown / total
