"""Who is cast in what: the values that casting, coverage and the sheets share.

A player and a play are ids here, strings or integers; names are looked up only where a sentence is
made. Depth counts from 1: first, second, third in a role.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final, NamedTuple

from plays.core.play import ROLES, Role

PlayerId = str | int
PlayId = str | int

DEPTHS: Final = (1, 2, 3)
# How much a play counts by its priority in the package, core, regular, spare: our own choice.
IMPORTANCE: Final[Mapping[int, float]] = {1: 2.0, 2: 1.0, 3: 0.5}


class Slot(NamedTuple):
    """One place in a cast that one player fills."""

    play: PlayId
    role: Role
    depth: int


class Lesson(NamedTuple):
    """One role of one play, taught to one player."""

    player: PlayerId
    play: PlayId
    role: Role


class Assignment(NamedTuple):
    """A slot and who fills it."""

    play: PlayId
    role: Role
    depth: int
    player: PlayerId

    @property
    def slot(self) -> Slot:
        return Slot(self.play, self.role, self.depth)

    @property
    def lesson(self) -> Lesson:
        return Lesson(self.player, self.play, self.role)


@dataclass(frozen=True, slots=True)
class Cast:
    """A cast for any number of plays, in the order of its slots."""

    assignments: tuple[Assignment, ...] = ()

    def by_slot(self) -> dict[Slot, PlayerId]:
        """Each filled slot; where one is filled twice, the last one counts."""
        return {assignment.slot: assignment.player for assignment in self.assignments}

    def who(self, play: PlayId, role: Role) -> tuple[PlayerId, ...]:
        """The players in a role, first depth first."""
        found = [a for a in self.assignments if a.play == play and a.role == role]
        return tuple(a.player for a in sorted(found, key=lambda a: a.depth))

    def of(self, player: PlayerId) -> tuple[Assignment, ...]:
        """All that one player is cast in."""
        return tuple(a for a in self.assignments if a.player == player)

    def lessons(self) -> frozenset[Lesson]:
        """Every (player, play, role) that somebody must know, at whatever depth."""
        return frozenset(assignment.lesson for assignment in self.assignments)

    def plays(self) -> tuple[PlayId, ...]:
        """The plays in the order in which they first appear."""
        return tuple(dict.fromkeys(assignment.play for assignment in self.assignments))

    def holes(self, plays: Iterable[PlayId], depth: int = 1) -> tuple[Slot, ...]:
        """The slots down to ``depth`` that nobody fills."""
        filled = self.by_slot()
        return tuple(slot for slot in slots(plays, depth) if slot not in filled)


def slots(plays: Iterable[PlayId], depth: int) -> tuple[Slot, ...]:
    """All slots of these plays down to ``depth``: play by play, role by role."""
    return tuple(
        Slot(play, role, level) for play in plays for role in ROLES for level in range(1, depth + 1)
    )


def cast_of(filled: Mapping[Slot, PlayerId]) -> Cast:
    """The cast with these slots filled, kept in the order given."""
    return Cast(tuple(Assignment(*slot, player) for slot, player in filled.items()))
