"""A play that was called in a game, as the log of the game tells it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from plays.core.defence.stance import Tactic
from plays.core.play import Role
from practice.core.reps.called import MOST_POINTS, CallResult
from practice.core.reps.rep import Id


class TakenLook(StrEnum):
    """What became of the looks."""

    LOOK = "look"  # one was taken
    NONE = "none"  # the play ran, and none was there
    BROKEN = "broken"  # it did not get as far as its looks
    UNSAID = "unsaid"  # nobody logged it


@dataclass(frozen=True, slots=True)
class Erred:
    """A role that went wrong, and who was in it."""

    role: Role
    player: Id


@dataclass(frozen=True, slots=True)
class Possession:
    """One call of a play. ``points`` is None where a foul led to throws that nobody logged.

    ``revision`` names the state of the play that was run, whose looks ``look`` is one of.
    Raises ValueError for a look that does not go with ``taken`` and for points that cannot be.
    """

    play: Id
    game: Id
    at: datetime
    taken: TakenLook
    result: CallResult
    points: int | None = 0
    look: str | None = None
    revision: Id | None = None
    defence: Tactic | None = None
    five: tuple[Id, ...] = ()
    erred: tuple[Erred, ...] = ()

    def __post_init__(self) -> None:
        if (self.look is None) is (self.taken is TakenLook.LOOK):
            raise ValueError(f"a possession with {self.taken} cannot have the look {self.look!r}")
        if self.points is None and self.result is not CallResult.FOUL:
            raise ValueError("only after a foul may the points be unknown")
        if not 0 <= (self.points or 0) <= MOST_POINTS:
            raise ValueError(f"a possession gives 0 to {MOST_POINTS} points, not {self.points}")
        if self.points and self.result not in (CallResult.POINTS, CallResult.FOUL):
            raise ValueError(f"{self.result} gives no points")

    @property
    def worked(self) -> bool:
        """Whether it gave points or a foul."""
        return bool(self.points) or self.result is CallResult.FOUL
