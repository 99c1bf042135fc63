"""A play called in a game: what the defence showed, which look was taken, and what came of it.

A possession is logged by a tap like a rep, with an id that the phone made. Of the game nothing
else is kept: the score and the minutes are the table's business.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Final

from plays.core.defence.stance import Tactic
from plays.core.play import Role
from practice.core.reps.rep import Id, Mode, Rep

MOST_POINTS: Final = 3  # by one possession's shot; a free throw beside it is a foul drawn
LAST_PERIOD: Final = 20  # four quarters and more overtimes than anybody has played
LONGEST_CLOCK: Final = 1200  # seconds: a half of twenty minutes
# Every tactic that the check knows, in the order in which a log offers them: the most usual first.
SEEN: Final = (
    Tactic.CHASE,
    Tactic.SWITCH,
    Tactic.ZONE,
    Tactic.TRAP,
    Tactic.FRONT,
    Tactic.SAG,
    Tactic.DENY,
    Tactic.TIGHT,
    Tactic.JUMP,
    Tactic.BEHIND,
    Tactic.OVER,
    Tactic.UNDER,
)


class Take(StrEnum):
    """What became of the play's looks."""

    LOOK = "look"  # one of them was thrown
    NONE = "none"  # it was run, and none was there or thrown
    BROKEN = "broken"  # it was not run as drawn


class CallResult(StrEnum):
    """How the possession ended."""

    POINTS = "points"  # 0 to 3 by a shot
    FOUL = "foul"  # drawn
    TURNOVER = "turnover"
    FIVE_SECONDS = "five_seconds"
    RESET = "reset"  # the ball is in, and the team plays on: it did not end


LOST: Final = frozenset({CallResult.TURNOVER, CallResult.FIVE_SECONDS})


@dataclass(frozen=True, slots=True)
class CalledPlay:
    """One possession in which a play was called. ``at`` is aware; ``game`` is a game's id.

    ``defence`` is None where nobody said; ``look`` is an id of the revision, with ``taken`` a look
    only; ``points`` with points always, with a foul drawn where somebody said what the free throws
    gave. ``cast`` may be empty: the five are a help, no duty. ``erred`` is of a broken one;
    ``clock`` is in seconds left of the period.
    """

    id: str
    game: Id
    play: Id
    at: datetime
    taken: Take
    result: CallResult
    defence: Tactic | None = None
    look: str | None = None
    points: int | None = None
    cast: tuple[tuple[Role, Id], ...] = ()
    erred: Role | None = None
    period: int | None = None
    clock: int | None = None
    by: Id | None = None
    revision: Id | None = None
    call: str | None = None

    @property
    def worked(self) -> bool:
        """Whether it gave points or a foul."""
        return bool(self.points) or self.result is CallResult.FOUL

    def player(self, role: Role) -> Id | None:
        """Who was in a role, where the five were said."""
        return next((who for each, who in self.cast if each == role), None)


def worth(result: CallResult, points: int | None) -> int | None:
    """Points of a possession: none where it was lost, None where it went on or nobody said."""
    if result in LOST:
        return 0
    return None if result is CallResult.RESET else points


def as_game_rep(called: CalledPlay) -> Rep:
    """The rep in game mode that a called play is for the five in it.

    Its practice is a text, ``game 7``: no game is ever taken for the practice of that number.
    """
    return Rep(
        id=called.id,
        practice=game_key(called.game),
        play=called.play,
        mode=Mode.GAME,
        at=called.at,
        cast=called.cast,
        clean=called.taken is not Take.BROKEN,
        erred=called.erred,
        by=called.by,
        revision=called.revision,
        call=called.call,
    )


def game_key(game: Id) -> str:
    """The id of a game among those of practices."""
    return f"game {game}"


def game_of(practice: Id) -> int | None:
    """The number of the game, where a practice's id is a game's; the inverse of ``game_key``."""
    head, _, number = str(practice).partition(" ")
    return int(number) if head == "game" else None
