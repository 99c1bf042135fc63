"""Who knows what in a squad, as arrays: the ground on which all coverage is worked out.

A player knows a role when they are cast in it, at whatever depth, and, where readiness is
given, when they are ready for it.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES, Role
from roster.core.cast import Cast, Lesson, PlayerId, PlayId
from roster.core.coverage.fives import membership
from roster.core.coverage.matching import Known, Worth, coverage
from roster.core.coverage.weights import Floor, Numbers, floor

DEPTH_WORTH: Final = (1.0, 0.8, 0.6)
"""What a player is worth in a role, by depth, where readiness is not known: our own choice."""


@dataclass(frozen=True, eq=False)
class Squad:
    """The players who can play, their plays, and who knows which role.

    ``known`` is (players, plays, 5) bool, ``worth`` the same in numbers from 0 to 1.
    ``importance`` (plays,) weighs the plays; ``throwers`` says which role throws in, if any.
    """

    players: tuple[PlayerId, ...]
    plays: tuple[PlayId, ...]
    known: Known
    worth: Worth
    floor: Floor
    importance: Numbers
    throwers: Mapping[PlayId, Role] = field(default_factory=dict)

    def runnable(self) -> Known:
        """(fives, plays): which five can run which play."""
        return coverage(self.known)

    def taught(self, *lessons: Lesson) -> Squad:
        """The squad once these lessons are learnt. Raises KeyError for unknown ids."""
        known = self.known.copy()
        for lesson in lessons:
            known[self.place(lesson)] = True
        return replace(self, known=known)

    def without(self, out: Collection[PlayerId]) -> Squad:
        """The squad with these players out: they know nothing, and the other fives are scaled up.

        They keep their places in the arrays, so that one absence can be held against another.
        """
        away = [player for player in self.players if player in out]
        if not away:
            return self
        known, worth = self.known.copy(), self.worth.copy()
        rows = [self.players.index(player) for player in away]
        known[rows], worth[rows] = False, 0.0
        weights = self.floor.without(*away)
        given = np.asarray(weights @ membership(len(self.players)))
        allowed = self.floor.allowed & ~membership(len(self.players))[:, rows].any(axis=1)
        floor = replace(self.floor, weights=weights, given=given, allowed=allowed)
        return replace(self, known=known, worth=worth, floor=floor)

    def place(self, lesson: Lesson) -> tuple[int, int, int]:
        """Where a lesson stands in the arrays. Raises KeyError."""
        if lesson.player not in self.players or lesson.play not in self.plays:
            raise KeyError(lesson)
        return (
            self.players.index(lesson.player),
            self.plays.index(lesson.play),
            ROLES.index(lesson.role),
        )

    def who_knows(self, play: PlayId, role: Role) -> tuple[PlayerId, ...]:
        """The players who know a role, in the squad's order."""
        column = self.known[:, self.plays.index(play), ROLES.index(role)]
        return tuple(player for player, knows in zip(self.players, column, strict=True) if knows)


def squad(
    players: Sequence[PlayerId],
    plays: Sequence[PlayId],
    cast: Cast,
    *,
    readiness: Mapping[Lesson, float] | None = None,
    ready: float = 1.0,
    minutes: Mapping[PlayerId, float] | None = None,
    never_together: Sequence[Sequence[PlayerId]] = (),
    importance: Mapping[PlayId, float] | None = None,
    throwers: Mapping[PlayId, Role] | None = None,
    only: Known | None = None,
) -> Squad:
    """The squad of those who can play: leave out who cannot.

    With ``readiness``, a role below ``ready`` or missing there is not known yet. Cast entries of
    other players and plays are passed over; ``only`` (fives,) rules the other fives out.
    Raises BadMinutesError.
    """
    known, worth = _arrays(players, plays, cast, readiness, ready)
    weighed = importance or {}
    return Squad(
        players=tuple(players),
        plays=tuple(plays),
        known=known,
        worth=worth,
        floor=floor(players, minutes, never_together, only),
        importance=np.array([weighed.get(play, 1.0) for play in plays]),
        throwers=throwers or {},
    )


def _arrays(
    players: Sequence[PlayerId],
    plays: Sequence[PlayId],
    cast: Cast,
    readiness: Mapping[Lesson, float] | None,
    ready: float,
) -> tuple[Known, Worth]:
    shape = (len(players), len(plays), len(ROLES))
    known: NDArray[np.bool_] = np.zeros(shape, dtype=np.bool_)
    worth = np.zeros(shape)
    rows = {player: row for row, player in enumerate(players)}
    columns = {play: column for column, play in enumerate(plays)}
    for a in cast.assignments:
        if a.player not in rows or a.play not in columns:
            continue
        place = rows[a.player], columns[a.play], ROLES.index(a.role)
        value = DEPTH_WORTH[a.depth - 1]
        if readiness is not None:
            value = readiness.get(a.lesson, 0.0)
            if value < ready:
                continue
        known[place] = True
        worth[place] = max(worth[place], value)
    return known, worth
