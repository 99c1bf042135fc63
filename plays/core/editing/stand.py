"""The five put into a formation of the trade, as long as nothing is drawn yet."""

from __future__ import annotations

from dataclasses import replace

from plays.core.editing.refused import DRAWN, GONE, RefusedError
from plays.core.play import Formation, Play
from plays.core.shorthand.read import read
from plays.core.shorthand.skeleton import PLACES, Edge, Side, skeleton


def is_undrawn(play: Play) -> bool:
    """Whether nobody does anything yet."""
    return not play.counters and not any(phase.actions for phase in play.phases)


def stood(play: Play, formation: Formation) -> Play:
    """Everybody but who has the ball at the formation's places. Raises RefusedError."""
    if not is_undrawn(play):
        raise RefusedError(DRAWN)
    if formation not in PLACES:
        raise RefusedError(GONE)
    edge: Edge = play.spot.edge if play.spot else "none"
    side: Side = play.spot.side if play.spot else "right"
    named = read(skeleton(formation, edge, side, play.court)).play
    free = play.thrower or play.ball
    places = iter(start.at for start in named.starts if start.role != (named.thrower or named.ball))
    starts = tuple(
        start if start.role == free else replace(start, at=next(places)) for start in play.starts
    )
    return replace(play, starts=starts, formation=formation)
