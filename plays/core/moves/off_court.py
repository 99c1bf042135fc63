"""What no longer fits after a play was moved: who starts or runs off the court, what to reread.

Metres as in ``play``. All that is found is told, never only the first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final, Literal

from plays.core.court.courts import Court, court
from plays.core.limits import DIGITS
from plays.core.moves.origins import PULL_IN, MoveStep, with_step
from plays.core.moves.rewrite import texts, with_places
from plays.core.moves.side_words import is_doubtful, names_a_place
from plays.core.play import Action, Counter, Look, Play, Point, Role, Situation
from shared.core.language import N_, Language

START_OFF: Final = N_("The {role} starts {metres} m off the court.")
PATH_OFF: Final = N_("The {role} runs {metres} m off the court.")
COUNTER_OFF: Final = N_("In the counter, the {role} runs {metres} m off the court.")
CATCH_OFF: Final = N_("The {role} would catch the ball {metres} m off the court.")
START_BACK: Final = N_("The {role} starts {metres} m beyond the centre line.")
PATH_BACK: Final = N_("The {role} runs {metres} m beyond the centre line.")

MARGIN: Final = 0.5  # room for a foot inside the line; ours

Kind = Literal["off", "backcourt"]


@dataclass(frozen=True, slots=True)
class OffCourt:
    """One place that does not fit: ``metres`` off the court, or beyond the centre line.

    ``action`` is the id of the action whose path leaves, None for a start or a catch.
    """

    kind: Kind
    role: Role
    action: str | None
    at: Point
    metres: float
    template: str
    counter: str | None = None  # id of the counter in which it happens

    def sentence(self, language: Language) -> str:
        return language.say(self.template, role=self.role, metres=language.number(self.metres, 2))


def off_court(play: Play) -> tuple[OffCourt, ...]:
    """Every start, path and catch off the court; in a half-court play also beyond half.

    A press break, and any throw-in from the team's own baseline, uses the whole court.
    The thrower's start out of bounds is as it should be and is not told.
    """
    return tuple(_all(play, court(play.court)))


def pull_in(play: Play, margin: float = MARGIN) -> Play:
    """The play with every place that lies off the court brought ``margin`` inside the line.

    The remedy for what a slide or turn pushed out. It cannot be undone by a move, and it
    changes distances: the play wants checking again. The thrower's start stays.
    """
    floor = court(play.court)
    moved = with_places(play, lambda point: _inside(point, floor, margin))
    starts = tuple(
        before if before.role == play.thrower else after
        for before, after in zip(play.starts, moved.starts, strict=True)
    )
    moved = replace(moved, starts=starts)
    return play if moved == play else with_step(play, moved, MoveStep(PULL_IN))


def texts_to_reread(play: Play, move: Literal["mirror", "turn"]) -> tuple[str, ...]:
    """The play's own sentences that a move may have made untrue, each once.

    After a turn: all that name a side, a line or a spot. After a mirror: those in which
    "right" may have meant "just".
    """
    suspect = is_doubtful if move == "mirror" else names_a_place
    return tuple(dict.fromkeys(text for text in texts(play) if suspect(text)))


def _all(play: Play, floor: Court) -> Iterator[OffCourt]:
    own_end = play.spot is not None and play.spot.far
    halves = play.situation is not Situation.PRESS_BREAK and not own_end
    for start in play.starts:
        if start.role != play.thrower:
            yield from _judge(start.role, None, start.at, floor, START_OFF)
            if halves:
                yield from _behind_half(start.role, None, start.at, floor, START_BACK)
    for action in play.actions():
        yield from _path(action, floor, PATH_OFF)
        if halves:
            yield from _path_behind_half(action, floor)
    for look in play.looks:
        yield from _catch(look, floor)
    for counter in play.counters:
        for found in _counter(counter, floor):
            yield replace(found, counter=counter.id)


def _counter(counter: Counter, floor: Court) -> Iterator[OffCourt]:
    for action in (*counter.replace, *counter.add):
        yield from _path(action, floor, COUNTER_OFF)
    for look in counter.looks:
        yield from _catch(look, floor)


def _catch(look: Look, floor: Court) -> Iterator[OffCourt]:
    if look.at is not None:
        yield from _judge(look.receiver, None, look.at, floor, CATCH_OFF)


def _path(action: Action, floor: Court, template: str) -> Iterator[OffCourt]:
    """The farthest point of a path that leaves the court."""
    worst = max(action.path, key=lambda point: _outside(point, floor), default=None)
    if worst is not None:
        yield from _judge(action.role, action.id, worst, floor, template)


def _path_behind_half(action: Action, floor: Court) -> Iterator[OffCourt]:
    worst = max(action.path, key=lambda point: point.y, default=None)
    if worst is not None:
        yield from _behind_half(action.role, action.id, worst, floor, PATH_BACK)


def _judge(
    role: Role, action: str | None, point: Point, floor: Court, template: str
) -> Iterator[OffCourt]:
    metres = _outside(point, floor)
    if metres > 0:
        yield OffCourt("off", role, action, point, round(metres, 3), template)


def _behind_half(
    role: Role, action: str | None, point: Point, floor: Court, template: str
) -> Iterator[OffCourt]:
    if floor.half_y < point.y and floor.contains(point):
        metres = round(point.y - floor.half_y, 3)
        yield OffCourt("backcourt", role, action, point, metres, template)


def _inside(point: Point, floor: Court, margin: float) -> Point:
    if floor.contains(point):
        return point
    wide, far = floor.half_width - margin, floor.length - margin
    x = min(max(point.x, -wide), wide) if abs(point.x) > floor.half_width else point.x
    y = point.y if 0 <= point.y <= floor.length else min(max(point.y, margin), far)
    return Point(round(x, DIGITS), round(y, DIGITS))


def _outside(point: Point, floor: Court) -> float:
    """How far off the court a place is, along the worse of the two axes; 0 inside."""
    return max(0.0, abs(point.x) - floor.half_width, -point.y, point.y - floor.length)
