"""Squads for the tests of coverage, absence, teaching and the five."""

from __future__ import annotations

import numpy as np

from plays.core.play import ROLES
from roster.core.cast import Assignment, Cast
from roster.core.coverage.squad import Squad, squad


def some_squad(seed: int, players: int = 10, plays: int = 4, share: float = 0.4) -> Squad:
    """Players "p0".. in plays "a".., each role known with a chance of ``share``."""
    rng = np.random.default_rng(seed)
    known = rng.random((players, plays, 5)) < share
    return squad_knowing(known, {f"p{i}": float(rng.integers(5, 31)) for i in range(players)})


def squad_knowing(known: np.ndarray, minutes: dict[str | int, float] | None = None) -> Squad:
    """The squad that knows exactly this: (players, plays, 5) bool."""
    cast = Cast(
        tuple(
            Assignment(chr(97 + play), ROLES[role], 1, f"p{player}")
            for player, play, role in np.argwhere(known)
        )
    )
    players = [f"p{i}" for i in range(known.shape[0])]
    plays = [chr(97 + play) for play in range(known.shape[1])]
    return squad(players, plays, cast, minutes=minutes)
