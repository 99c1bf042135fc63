"""Where the bar of a screen stands in a diagram, and which way it faces.

The document names a screener's place and cutter, not a direction. The bar is square to the
defender who is to be stopped: to the cutter's guard where one is drawn, else to the line on which
the cutter comes, since there the guard follows. Points and unit vectors of the picture, y down.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from math import hypot
from typing import Final

from plays.core.drawing.ground import Ground
from plays.core.play import Moment, Role
from plays.core.sequence.course import BALL_MOVERS, Leg
from shared.core.drawing.curves import (
    XY,
    Cubic,
    Curve,
    between,
    direction,
    distance,
    nearest,
    smooth,
    to_segment,
)

NEAR: Final = 2.5
"""Metres: a cutter who stays further away than this does not use the screen."""

BAR: Final = 15.0
"""Points: the length of a bar."""

OFF_DISC: Final = 3.5
"""Points from a circle's edge to a bar, so that the way to it still shows."""

OFF_GUARD: Final = 11.0
"""Points from the middle of a defender's cross, which has a number beside it, to a bar."""

SWEEP: Final = 0.5
"""Where a way turns to meet a bar square: this share of its length before the bar."""

FURTHEST: Final = 36
"""Points: a bar is moved aside by no more than this."""


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar on the picture: its middle, and the unit direction of the defender whom it faces."""

    at: XY
    faces: XY


@dataclass(frozen=True, slots=True)
class Passing:
    """A cutter's run past a screen, and its direction where it comes nearest."""

    leg: Leg
    way: XY


def passing(legs: Sequence[Leg], screen: Leg) -> Passing | None:
    """The run that uses a screen, places in metres; None without one near enough.

    ``legs`` are all of the play, in order. A run that waits for this screen, or for whose
    passing the screen waits, comes before any other; then a later one, then the nearest.
    """
    best: tuple[tuple[bool, bool, float], Passing] | None = None
    after = [leg.action.id for leg in legs].index(screen.action.id)
    for place, leg in enumerate(legs):
        if leg.action.role != screen.action.cutter or len(leg.points) < 2:
            continue
        if leg.action.kind in BALL_MOVERS:
            continue
        points = smooth(leg.points).flatten(0.3)
        index, gap = nearest(points, screen.end)
        key = not _bound(leg, screen), place < after, gap
        if gap < NEAR and (best is None or key < best[0]):
            way = direction(points[index], points[index + 1])
            best = key, Passing(leg, way)
    return best[1] if best else None


def bar_for(
    ground: Ground,
    screen: Leg,
    run: Passing | None,
    guards: Mapping[Role, XY],
    bars: Collection[Bar],
) -> Bar:
    """The bar where its screen is set, or as near as it lies clear of people and other bars.

    ``guards`` are the defenders' crosses by whom they guard.
    """
    at = ground.frame.to(screen.end)
    stops = guards.get(screen.action.cutter) if screen.action.cutter else None
    home = Bar(at, _faces(ground, screen, at, run))
    if stops is not None:
        home = Bar(at, direction(at, stops))
    for along, aside in _steps():
        moved = shifted_bar(home, along, aside)
        if stops is not None:
            moved = Bar(moved.at, direction(moved.at, stops))
        if clear(ground, moved, guards.values()) and not any(_touch(moved, bar) for bar in bars):
            return moved
    return home


def _faces(ground: Ground, screen: Leg, at: XY, run: Passing | None) -> XY:
    """Against the line of the cutter, or towards the cutter where no run is known."""
    if run is not None:
        return -run.way[0], -run.way[1]
    cutter = screen.action.cutter
    return direction(at, ground.here(cutter, screen.end) if cutter else ground.ring)


def clear(ground: Ground, bar: Bar, guards: Collection[XY]) -> bool:
    """Whether a bar touches no person's circle and no defender's cross."""
    a, b = bar_ends(bar.at, bar.faces)
    least = ground.radius + OFF_DISC
    return all(to_segment(at, a, b) >= least for at in ground.circles.values()) and all(
        to_segment(at, a, b) >= OFF_GUARD for at in guards
    )


def bar_ends(at: XY, faces: XY, length: float = BAR) -> tuple[XY, XY]:
    """Both ends of a bar about a point, square to the way that it faces."""
    (x, y), (fx, fy), half = at, faces, length / 2
    return (x - half * fy, y + half * fx), (x + half * fy, y - half * fx)


def shifted_bar(bar: Bar, along: float, aside: float) -> Bar:
    """The bar moved towards the defender, and along itself."""
    (x, y), (fx, fy) = bar.at, bar.faces
    return Bar((x + along * fx - aside * fy, y + along * fy + aside * fx), bar.faces)


def arriving(points: Sequence[XY], bar: Bar) -> Curve:
    """The way to a bar, which it meets square: from behind, unless it comes from the front."""
    before = points[-2] if len(points) > 1 else points[0]
    run = direction(before, bar.at)
    sign = -1 if run[0] * bar.faces[0] + run[1] * bar.faces[1] < -0.2 else 1
    finish = sign * bar.faces[0], sign * bar.faces[1]
    if len(points) > 2:
        return smooth([*points[:-1], bar.at], finish=finish)
    reach = SWEEP * distance(before, bar.at)
    bend = bar.at[0] - reach * finish[0], bar.at[1] - reach * finish[1]
    return Curve(
        (Cubic(before, between(before, bend, 2 / 3), between(bar.at, bend, 2 / 3), bar.at),)
    )


@cache
def _steps() -> tuple[tuple[int, int], ...]:
    """Moves in order of their length, towards the defender before away, straight before aside."""

    def cost(step: tuple[int, int]) -> tuple[float, int, int]:
        along, aside = step
        return hypot(along, 1.3 * aside) + (1.5 if along < 0 else 0.0), abs(aside), -aside

    return tuple(sorted(_grid(), key=cost))


def _grid() -> Iterator[tuple[int, int]]:
    for along in range(-FURTHEST, FURTHEST + 1, 2):
        for aside in range(-FURTHEST, FURTHEST + 1, 3):
            yield along, aside


def _touch(one: Bar, other: Bar) -> bool:
    a, b = bar_ends(one.at, one.faces)
    c, d = bar_ends(other.at, other.faces)
    return (
        min(to_segment(a, c, d), to_segment(b, c, d), to_segment(c, a, b), to_segment(d, a, b))
        < OFF_DISC
    )


def _bound(leg: Leg, screen: Leg) -> bool:
    """Whether run and screen wait for each other."""
    return any(
        cue.on is Moment.SET and cue.action == screen.action.id for cue in leg.action.cues
    ) or any(cue.on is Moment.PASSES and cue.action == leg.action.id for cue in screen.action.cues)
