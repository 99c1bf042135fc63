"""The same play from the other side, from another depth, or from the other line.

Units and axes as in ``play``. Mirror and slide are rigid: they keep every distance between people
and so every time. A turn keeps that of the set-up, and the landmarks of the floor. All are exact
on the millimetre: undone, they give the play they came from, note of origin included.
What no longer fits the court is told by ``off_court``, not mended here.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from plays.core.court.courts import Court, court, side_sign
from plays.core.limits import DIGITS
from plays.core.moves.landmarks import by_landmarks
from plays.core.moves.origins import MoveStep, steps, with_step
from plays.core.moves.rewrite import with_places, with_texts
from plays.core.moves.side_words import mirrored_text
from plays.core.play import Play, Point, Situation, Spot

_SAME: Final = 0.0005  # half a millimetre
_TURNED_SITUATION: Final = {
    Situation.SIDELINE: Situation.BASELINE,
    Situation.BASELINE: Situation.SIDELINE,
}


class NoSpotError(ValueError):
    """A play without a throw-in spot can be mirrored, but neither slid nor turned."""


class OwnBaselineError(ValueError):
    """A throw-in from behind one's own basket goes up the whole court, not across it: no turn."""


class OffTheLineError(ValueError):
    """A throw-in spot must lie on its line: between the corners, at most a court's length up."""


def mirror(play: Play) -> Play:
    """The play for the other side of the court; left and right change in its texts too."""
    moved = with_texts(with_places(play, _mirrored), mirrored_text)
    if play.spot is not None:
        moved = replace(moved, spot=_other_side(play.spot))
    return with_step(play, moved, MoveStep("mirror"))


def slide(play: Play, along: float) -> Play:
    """The play thrown in from another place on the same line, everybody moved as far.

    ``along`` is as in ``Spot``: y on a sideline, the distance |x| from the middle on the
    baseline. Raises NoSpotError and OffTheLineError.
    """
    spot = _spot(play)
    there = _placed(play, spot, along)
    if abs(there.along - spot.along) < _SAME:
        return play
    shift = round(there.along - spot.along, DIGITS)
    if spot.edge == "sideline":
        across, up = 0.0, shift
    else:
        across, up = side_sign(spot.side) * shift, 0.0
    moved = with_places(play, lambda point: _grid(point.x + across, point.y + up))
    step = MoveStep("slide", _metres(spot.along), _metres(there.along))
    return with_step(play, replace(moved, spot=there), step)


def turn(play: Play, along: float | None = None) -> Play:
    """The play thrown in from the other line: the set-up turned about the spot by a right angle.

    What is in front of the thrower, and what is toward the basket, stays so; who runs to the rim,
    posts up or clears out ends at the same landmark (``landmarks``). Without ``along`` a play
    that was turned before goes back to where it came from; another goes to the rule book's place
    on the other line. The coach's own words on places are not touched: see ``texts_to_reread``.
    Raises NoSpotError, OffTheLineError and, from the baseline at the other end, OwnBaselineError.
    """
    spot, floor = _spot(play), court(play.court)
    if spot.far:
        raise OwnBaselineError(
            f"the play {play.name!r} is thrown in from behind its own baseline and needs the"
            " length of the court: it cannot be turned to a sideline"
        )
    along = _turned_along(play, spot, floor) if along is None else along
    there = _placed(play, _other_line(spot), along)
    moved = by_landmarks(play, lambda point: _turned(point, spot, there, floor), floor)
    situation = _TURNED_SITUATION.get(play.situation, play.situation)
    step = MoveStep("turn", _metres(spot.along), _metres(there.along))
    return with_step(play, replace(moved, spot=there, situation=situation), step)


def _turned(point: Point, spot: Spot, there: Spot, floor: Court) -> Point:
    """By depth from the thrower's line and by distance from the spot toward the basket."""
    sign, wide = side_sign(spot.side), floor.half_width
    gap = round(there.along - spot.along, DIGITS)
    if spot.edge == "sideline":
        return _grid(sign * (gap + point.y), wide - sign * point.x)
    return _grid(sign * (wide - point.y), sign * point.x + gap)


def _turned_along(play: Play, spot: Spot, floor: Court) -> float:
    for step in reversed(steps(play)):
        if step.name == "turn":
            if abs(float(step.new) - spot.along) < _SAME:
                return float(step.old)
            break
    if spot.edge == "baseline":
        return round(floor.throw_in_y, DIGITS)
    return round(floor.baseline_spot_x, DIGITS)


def _placed(play: Play, spot: Spot, along: float) -> Spot:
    """The spot at ``along``, on the millimetre unless the play has stood there before."""
    floor = court(play.court)
    limit = floor.length if spot.edge == "sideline" else floor.half_width
    if not 0 <= along <= limit:
        raise OffTheLineError(f"{along} m is not on the {spot.edge}: it runs from 0 to {limit} m")
    if _metres(along) in {step.old for step in steps(play)}:
        return replace(spot, along=along)
    return replace(spot, along=round(along, DIGITS) + 0.0)


def _other_side(spot: Spot) -> Spot:
    return replace(spot, side="right") if spot.side == "left" else replace(spot, side="left")


def _other_line(spot: Spot) -> Spot:
    if spot.edge == "sideline":
        return replace(spot, edge="baseline")
    return replace(spot, edge="sideline")


def _spot(play: Play) -> Spot:
    if play.spot is None:
        raise NoSpotError(f"the play {play.name!r} has no throw-in spot")
    return play.spot


def _metres(along: float) -> str:
    return repr(float(along))


def _mirrored(point: Point) -> Point:
    return Point(0.0 - point.x, point.y)


def _grid(x: float, y: float) -> Point:
    # Adding 0.0 turns a negative zero into zero: both are written the same.
    return Point(round(x, DIGITS) + 0.0, round(y, DIGITS) + 0.0)
