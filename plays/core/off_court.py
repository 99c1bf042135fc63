"""What no longer fits after a play was moved: who starts or runs off the court, what to reread.

Metres as in ``play``. All that is found is told, never only the first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from plays.core.courts import Court, court
from plays.core.play import Action, Play, Point, Role, Situation
from plays.core.rewrite import texts
from plays.core.side_words import is_doubtful, names_a_place
from shared.core.language import N_, Language

START_OFF: Final = N_("The {role} starts {metres} m off the court.")
PATH_OFF: Final = N_("The {role} runs {metres} m off the court.")
COUNTER_OFF: Final = N_("In the counter, the {role} runs {metres} m off the court.")
CATCH_OFF: Final = N_("The {role} would catch the ball {metres} m off the court.")
START_BACK: Final = N_("The {role} starts {metres} m beyond the centre line.")
PATH_BACK: Final = N_("The {role} runs {metres} m beyond the centre line.")

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

    def sentence(self, language: Language) -> str:
        return language.say(self.template, role=self.role, metres=language.number(self.metres, 2))


def off_court(play: Play) -> tuple[OffCourt, ...]:
    """Every start, path and catch off the court; in a half-court play also beyond half.

    The thrower's start out of bounds is as it should be and is not told.
    """
    return tuple(_all(play, court(play.court)))


def texts_to_reread(play: Play, move: Literal["mirror", "turn"]) -> tuple[str, ...]:
    """The play's own sentences that a move may have made untrue, each once.

    After a turn: all that name a side, a line or a spot. After a mirror: those in which
    "right" may have meant "just".
    """
    suspect = is_doubtful if move == "mirror" else names_a_place
    return tuple(dict.fromkeys(text for text in texts(play) if suspect(text)))


def _all(play: Play, floor: Court) -> Iterator[OffCourt]:
    halves = play.situation is not Situation.PRESS_BREAK
    for start in play.starts:
        if start.role != play.thrower:
            yield from _judge(start.role, None, start.at, floor, START_OFF)
            if halves:
                yield from _behind_half(start.role, None, start.at, floor, START_BACK)
    for action in play.actions():
        yield from _path(action, floor, PATH_OFF)
        if halves:
            yield from _path_behind_half(action, floor)
    for counter in play.counters:
        for action in (*counter.replace, *counter.add):
            yield from _path(action, floor, COUNTER_OFF)
    for look in (*play.looks, *(look for counter in play.counters for look in counter.looks)):
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


def _outside(point: Point, floor: Court) -> float:
    """How far off the court a place is, along the worse of the two axes; 0 inside."""
    return max(0.0, abs(point.x) - floor.half_width, -point.y, point.y - floor.length)
