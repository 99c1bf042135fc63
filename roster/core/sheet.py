"""One player's sheet: every play of the package in which they have a role, and their part in it.

The sheet is a value: the phone page and the printed page are two ways to show it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

from plays.core.calls import CallName, call_for, told_apart
from plays.core.play import ROLES, Play, Role
from plays.core.words import RolePart, part_of
from roster.core.cast import Cast, PlayerId
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class CarriedPlay:
    """A play as a team carries it. ``id`` is the play's id in the cast."""

    id: PlayerId
    play: Play
    revision: int
    call: str
    signal: str = ""


@dataclass(frozen=True, slots=True)
class SheetPart:
    """One role of one play.

    ``names`` says who is in which role; ``stands_in_for`` is empty at depth 1.
    """

    carried: CarriedPlay
    role: Role
    depth: int
    call: str
    names: Mapping[Role, str]
    part: RolePart
    stands_in_for: tuple[str, ...] = ()
    stand_ins: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sheet:
    player: CallName
    team: str
    made_on: date
    parts: tuple[SheetPart, ...]


def sheet_of(
    player: PlayerId,
    people: Mapping[PlayerId, CallName],
    package: Iterable[CarriedPlay],
    cast: Cast,
    *,
    team: str,
    made_on: date,
    language: Language,
) -> Sheet:
    """The sheet of one player: plays in the package's order, first depth before stand-ins.

    ``people`` names everybody in the cast. Raises KeyError for a player who is not in it.
    """
    maker = _Maker(player, people, told_apart(people, language), cast, language)
    parts = tuple(maker.part(carried, role) for carried in package for role in maker.roles(carried))
    return Sheet(people[player], team, made_on, parts)


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes the parts of one player."""

    player: PlayerId
    people: Mapping[PlayerId, CallName]
    shown: Mapping[PlayerId, str]
    cast: Cast
    language: Language

    def roles(self, carried: CarriedPlay) -> list[Role]:
        """The player's roles in a play, first depth before stand-ins."""
        mine = [a for a in self.cast.of(self.player) if a.play == carried.id]
        return [a.role for a in sorted(mine, key=lambda a: (a.depth, a.role))]

    def part(self, carried: CarriedPlay, role: Role) -> SheetPart:
        in_role = self.cast.who(carried.id, role)
        place = in_role.index(self.player)
        five = self._five_around(carried, role)
        names = {other: self.shown[who] for other, who in five.items()}
        calls = {other: self.people[who] for other, who in five.items()}
        return SheetPart(
            carried=carried,
            role=role,
            depth=place + 1,
            call=call_for(carried.call, calls, self.language),
            names=names,
            part=part_of(carried.play, role, names, self.language),
            stands_in_for=tuple(self.shown[who] for who in in_role[:place]),
            stand_ins=tuple(self.shown[who] for who in in_role[place + 1 :]),
        )

    def _five_around(self, carried: CarriedPlay, role: Role) -> dict[Role, PlayerId]:
        """Who is on the floor when this player runs this role: the first in each other role.

        Where that would be somebody already placed, the next in depth steps in.
        """
        five: dict[Role, PlayerId] = {role: self.player}
        for other in ROLES:
            in_other = self.cast.who(carried.id, other)
            free = [who for who in in_other if who not in five.values()]
            if other != role and free:
                five[other] = free[0]
        return five
