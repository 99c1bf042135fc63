"""Where the defenders of a diagram are drawn.

A place that the coach drew holds for the first phase. A stance gives a place from the man,
the ball and the basket, an arm's length off, moved a little where a line or a person is in
its way: it shows who guards whom, and is no forecast of where a defender will be.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import cos, radians, sin
from types import MappingProxyType
from typing import Final

from plays.core.drawing.ground import Ground
from plays.core.drawing.marks import CROSS, NOTE_SIZE
from plays.core.play import Play, Role, Stance
from shared.core.drawing.curves import XY, between, direction
from shared.core.drawing.fonts import CAP_HEIGHT
from shared.core.drawing.room import Rect, Room

ARM: Final = 21.0
"""Points from the man's middle to the defender's."""

AT_BACK: Final = 0.8  # of an arm's length for who stands behind a post player
REACHES: Final = (1.0, 1.2, 1.45)
TURNS: Final = (0, 25, -25, 50, -50, 80, -80, 115, -115)


@dataclass(frozen=True, slots=True)
class Guard:
    """A defender's mark: whom it guards, where, and on which side its number stands."""

    guards: Role
    at: XY
    side: int
    note: float = NOTE_SIZE

    @property
    def room(self) -> Rect:
        """What the cross and its number cover."""
        half, wide = CROSS / 2 + 1.5, 0.72 * self.note
        tall = max(half, self.note * CAP_HEIGHT / 2 + 2)
        left = self.at[0] - half - (wide if self.side < 0 else 0)
        return Rect(left, self.at[1] - tall, 2 * half + wide, 2 * tall)


def guards(
    play: Play,
    ground: Ground,
    room: Room,
    kept: Mapping[Role, Guard] = MappingProxyType({}),
    *,
    note: float = NOTE_SIZE,
) -> tuple[Guard, ...]:
    """The defenders of a phase; their room is taken from ``room``.

    Those in ``kept``, by whom they guard, stay where they are. ``note`` is the size of a number.
    """
    first = ground.scene.phase.id == play.phases[0].id
    found = list(kept.values())
    for guard in found:
        room.block(guard.room)
    for defender in play.defenders:
        man = ground.circles.get(defender.guards)
        if defender.guards in kept:
            continue
        if defender.at is not None and first:
            places: Iterator[XY] = iter([ground.frame.to(defender.at)])
        elif man is not None:
            stance = defender.stance or Stance.BETWEEN
            near = AT_BACK if stance is Stance.BEHIND else 1.0
            places = _places(man, _towards(ground, man, stance), near * ARM)
        else:
            continue
        guard = _settled(defender.guards, places, room, note)
        found.append(guard)
        room.block(guard.room)
    return tuple(found)


def _settled(role: Role, places: Iterator[XY], room: Room, note: float) -> Guard:
    """The first place with free room, or else the first place."""
    first: Guard | None = None
    for at in places:
        for side in (1, -1):
            guard = Guard(role, at, side, note)
            if room.free(guard.room):
                return guard
            first = first or guard
    assert first is not None
    return first


def _places(man: XY, way: XY, arm: float) -> Iterator[XY]:
    for reach in REACHES:
        for turn in TURNS:
            c, s = cos(radians(turn)), sin(radians(turn))
            dx, dy = c * way[0] - s * way[1], s * way[0] + c * way[1]
            yield man[0] + arm * reach * dx, man[1] + arm * reach * dy


def _towards(ground: Ground, man: XY, stance: Stance) -> XY:
    """The direction from a man in which a stance puts the defender."""
    circles: Mapping[Role, XY] = ground.circles
    ball = circles.get(ground.scene.holder) if ground.scene.holder else None
    if ball is None or ball == man or stance in (Stance.BETWEEN, Stance.BEHIND):
        return direction(man, ground.ring)
    if stance is Stance.FRONT:
        return direction(man, ball)
    return direction(man, between(ball, ground.ring, 0.25))
