"""What of a play belongs to the throw-in, and turns with it, and what belongs to the floor.

A line or a stack stands in relation to the thrower: it is turned about the spot, with the screens
and first cuts run out of it. A box, a diamond and a spread stand about the lane and stay. So do
the rim, the corners, whoever posts up, seals, rolls, slips or clears out, and all that is run
from there or once the ball is in. A place that the turn would carry under the basket, into a
corner or off the half court stays too.

A place stays when any place of its orbit does: the four places to which turning on and on by a
right angle would bring it. All four have the same answer, so a turn back undoes a turn.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from math import dist
from typing import Final

from plays.core.court.courts import Court
from plays.core.court.spots import named_spots
from plays.core.moves.rewrite import with_places
from plays.core.play import (
    Action,
    ActionKind,
    Counter,
    Cut,
    Formation,
    Look,
    Play,
    Point,
    Role,
    Situation,
    Start,
)
from plays.core.sequence.course import with_counter

AT_RIM: Final = 1.8  # metres from the basket that count as "to the rim"; ours
AT_CORNER: Final = 1.5  # metres from the named corner that count as the corner; ours
LANDED: Final = (Cut.POST_UP, Cut.SEAL, Cut.ROLL, Cut.SLIP, Cut.CLEAR_OUT)
ABOUT_LANE: Final = (Formation.BOX, Formation.DIAMOND, Formation.FOUR_ACROSS, Formation.SPREAD)

Turned = Callable[[Point], Point]
Bound = Callable[[Point], bool]


def by_landmarks(play: Play, turned: Turned, floor: Court) -> Play:
    """The play with what belongs to the throw-in put through ``turned``, a right angle."""
    deep = floor.length if play.situation is Situation.PRESS_BREAK else floor.half_y

    def bound(point: Point) -> bool:
        return belongs_to_floor(point, turned, floor, deep)

    stays = _staying(play, bound)
    moved = with_places(play, lambda point: point if bound(point) else turned(point))
    phases = zip(play.phases, moved.phases, strict=True)
    return replace(
        moved,
        starts=tuple(_starts(play, moved, turned)),
        phases=tuple(
            replace(new, actions=_actions(old.actions, new.actions, stays)) for old, new in phases
        ),
        looks=_looks(play.looks, moved.looks, stays),
        counters=tuple(
            _counter(old, new, stays)
            for old, new in zip(play.counters, moved.counters, strict=True)
        ),
    )


def belongs_to_floor(point: Point, turned: Turned, floor: Court, deep: float) -> bool:
    """Whether a place stays where it is, whoever runs there; the play reaches ``deep`` metres up
    the court."""
    for _ in range(4):
        on_floor = floor.contains(point) and point.y <= deep
        if not on_floor or _landmark(point, floor):
            return True
        point = turned(point)
    return False


def _landmark(point: Point, floor: Court) -> bool:
    spots = named_spots(floor)
    corners = (spots["left_corner"], spots["right_corner"])
    at_corner = any(dist(point, corner) <= AT_CORNER for corner in corners)
    return at_corner or dist(point, floor.basket) <= AT_RIM


@dataclass(frozen=True, slots=True)
class _Stays:
    """The ids of actions whose end, and whose way there, belongs to the floor."""

    ends: frozenset[str]
    ways: frozenset[str]


def _staying(play: Play, bound: Bound) -> _Stays:
    ends: set[str] = set()
    ways: set[str] = set()
    for run in (play, *(with_counter(play, counter) for counter in play.counters)):
        for id_, way, end in _Walk(bound).through(run):
            ends |= {id_} if end else set()
            ways |= {id_} if way else set()
    return _Stays(frozenset(ends), frozenset(ways))


@dataclass(slots=True)
class _Walk:
    """Goes through a run in written order; ``landed`` says who has left the set-up."""

    bound: Bound
    landed: dict[Role, bool] = field(default_factory=dict)

    def through(self, run: Play) -> Iterator[tuple[str, bool, bool]]:
        """(the action, whether its way stays, whether its end does)."""
        for start in run.starts:
            stays = run.formation in ABOUT_LANE or self.bound(start.at)
            self.landed[start.role] = stays and start.role != run.thrower
        for phase in run.phases:
            for action in phase.actions:
                before = phase.rotation or self.landed.get(action.role, False)
                self.landed[action.role] = before or self._lands(action)
                yield action.id, before, self.landed[action.role]

    def _lands(self, action: Action) -> bool:
        if not action.path:
            return False
        if action.kind is ActionKind.CUT and action.cut in LANDED:
            return True
        if action.kind is ActionKind.SCREEN and self.landed.get(action.cutter or action.role):
            return True
        return self.bound(action.path[-1])


def _starts(play: Play, moved: Play, turned: Turned) -> Iterator[Start]:
    for old, new in zip(play.starts, moved.starts, strict=True):
        if old.role == play.thrower:
            yield replace(old, at=turned(old.at))
        else:
            yield old if play.formation in ABOUT_LANE else new


def _actions(
    before: tuple[Action, ...], after: tuple[Action, ...], stays: _Stays
) -> tuple[Action, ...]:
    return tuple(
        replace(new, path=_path(old, new, stays)) for old, new in zip(before, after, strict=True)
    )


def _path(old: Action, new: Action, stays: _Stays) -> tuple[Point, ...]:
    way = old if old.id in stays.ways else new
    end = old if old.id in stays.ends else new
    return (*way.path[:-1], *end.path[-1:])


def _looks(before: tuple[Look, ...], after: tuple[Look, ...], stays: _Stays) -> tuple[Look, ...]:
    pairs = zip(before, after, strict=True)
    return tuple(old if old.action in stays.ends else new for old, new in pairs)


def _counter(old: Counter, new: Counter, stays: _Stays) -> Counter:
    return replace(
        new,
        replace=_actions(old.replace, new.replace, stays),
        add=_actions(old.add, new.add, stays),
        looks=_looks(old.looks, new.looks, stays),
    )
