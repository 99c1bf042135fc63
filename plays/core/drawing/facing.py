"""Which way somebody looks as a play starts, in quarters of a turn of the picture."""

from __future__ import annotations

from typing import Final

from plays.core.court.courts import court
from plays.core.play import Play, Role

AT_BASKET: Final = 0
"""As every diagram is drawn: the basket at the top."""


def quarters(play: Play, role: Role) -> int:
    """How many quarters clockwise bring to the top what a role looks at as the play starts.

    Who throws in looks into the court, who else has the ball looks at the basket, and everybody
    without it looks at the ball: common practice, no source. Raises KeyError for a role without
    a start.
    """
    here, ball = play.start_of(role), play.start_of(play.ball)
    floor = court(play.court)
    if role == play.thrower and play.spot is not None:
        if play.spot.edge == "sideline":
            return _toward(1.0 if play.spot.side == "left" else -1.0, 0.0)
        return _toward(0.0, -1.0 if play.spot.far else 1.0)
    if role == play.ball:
        return _toward(floor.basket.x - here.x, floor.basket.y - here.y)
    return _toward(ball.x - here.x, ball.y - here.y)


def _toward(across: float, up: float) -> int:
    """The nearest of the four ways; in the picture, up the court is down."""
    if abs(across) > abs(up):
        return 3 if across > 0 else 1
    return 2 if up > 0 else AT_BASKET
