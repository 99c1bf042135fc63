"""Seasons of possessions whose truth is known: for estimators to find again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime, timedelta

import numpy as np

from plays.core.defence.stance import Tactic
from plays.core.play import Role
from practice.core.learning.order import LookOrder, LookPlace
from practice.core.reps.called import CalledPlay, CallResult, Take

FIRST = datetime(2026, 10, 3, 18, 0, tzinfo=UTC)


def possession(
    play: int | str = "a",
    *,
    look: str | None = None,
    taken: Take | None = None,
    result: CallResult = CallResult.POINTS,
    points: int | None = 0,
    defence: Tactic | None = None,
    revision: int | None = None,
    game: int = 1,
) -> CalledPlay:
    """A possession of which only what matters is said."""
    return CalledPlay(
        id="",
        play=play,
        game=game,
        at=FIRST + timedelta(days=7 * game),
        taken=taken or (Take.LOOK if look else Take.NONE),
        result=result,
        points=points,
        look=look,
        defence=defence,
        revision=revision,
    )


def in_a_row(*guesses: float | None, passer: Role = "4") -> LookOrder:
    """Looks of one passer, the first one first: "1", "2" and so on."""
    receivers: tuple[Role, ...] = ("1", "2", "3", "5")
    return LookOrder(
        tuple(
            LookPlace(str(n), (passer, receivers[(n - 1) % 4]), n, None, guess)
            for n, guess in enumerate(guesses, start=1)
        )
    )


def run(
    order: LookOrder,
    there: Mapping[str, float],
    count: int,
    draw: np.random.Generator,
    defences: Sequence[Tactic | None] = (None,),
) -> list[CalledPlay]:
    """So many calls of a play whose looks, all of one passer, are there as often as said."""
    made = []
    for n in range(count):
        free = [p.id for p in order.places if draw.random() < there[p.id]]
        look = free[0] if free else None
        points = int(draw.choice([0, 2, 3])) if look else 0
        made.append(
            possession(look=look, points=points, defence=defences[n % len(defences)], game=n // 8)
        )
    return made
