"""One player's sheet: every play of the package in which they have a role, and their part in it.

The sheet is a value: the phone page and the printed page are two ways to show it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Final

from plays.core.calls import CallName, call_for, told_apart
from plays.core.moves.translated import told_in
from plays.core.play import Play, Role
from plays.core.words.part import part_of
from plays.core.words.role_part import RolePart
from plays.core.words.variants import OtherCall, other_calls
from roster.core.cast import Assignment, Cast, PlayerId
from roster.core.coverage.stand_in import five_of
from shared.core.language import N_, Language

# Said of a day on which somebody is out. Never why: that is nobody's business but theirs.
FIRST_NOW: Final = N_("For now you are first here, in place of {who}.")
ELSEWHERE_NOW: Final = N_("For now you take role {role} in this play; {who} is here.")
IN_PLACE: Final = N_("For now {who} takes role {role} in place of {first}.")
OPEN_NOW: Final = N_("For now nobody takes role {role}.")


@dataclass(frozen=True, slots=True)
class CarriedPlay:
    """A play as a team carries it. ``id`` is the play's id in the cast.

    ``published`` is when this state of it was, on the club's clock.
    """

    id: PlayerId
    play: Play
    published: datetime
    call: str
    signal: str = ""

    def told_in(self, language: Language) -> CarriedPlay:
        """The same with the club's own texts in this language, where it has entered them."""
        return replace(self, play=told_in(self.play, language.code))


@dataclass(frozen=True, slots=True)
class SheetPart:
    """One role of one play.

    ``names`` says who is in which role; ``stands_in_for`` is empty at depth 1. ``for_now``
    tells in sentences what is different while somebody is out. ``others`` are the play's further
    calls as they are heard on the floor.
    """

    carried: CarriedPlay
    role: Role
    depth: int
    call: str
    names: Mapping[Role, str]
    part: RolePart
    stands_in_for: tuple[str, ...] = ()
    for_now: tuple[str, ...] = ()
    others: tuple[OtherCall, ...] = ()


@dataclass(frozen=True, slots=True)
class Sheet:
    """One player's part in every play of the package in which they have a role."""

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
    out: Collection[PlayerId] = (),
) -> Sheet:
    """The sheet of one player: plays in the package's order, first depth before stand-ins.

    ``people`` names everybody in the cast. For those who are ``out`` the next in depth steps
    in, and the sheet says so; their own sheet is as if they were there. Raises KeyError for a
    player who is not in ``people``.
    """
    away = frozenset(out) - {player}
    maker = _Maker(player, people, told_apart(people, language), cast, language, away)
    told = (carried.told_in(language) for carried in package)
    parts = tuple(maker.part(carried, role) for carried in told for role in maker.roles(carried))
    return Sheet(people[player], team, made_on, parts)


@dataclass(frozen=True, slots=True)
class _Maker:
    """Makes the parts of one player."""

    player: PlayerId
    people: Mapping[PlayerId, CallName]
    shown: Mapping[PlayerId, str]
    cast: Cast
    language: Language
    out: frozenset[PlayerId]

    def roles(self, carried: CarriedPlay) -> list[Role]:
        """The player's roles in a play: what they are first in now, then stand-ins."""
        now = self._now(carried)
        mine = [a for a in self.cast.of(self.player) if a.play == carried.id]
        ordered = sorted(mine, key=lambda a: (now.get(a.role) != self.player, a.depth, a.role))
        return list(dict.fromkeys(a.role for a in ordered))

    def part(self, carried: CarriedPlay, role: Role) -> SheetPart:
        in_role = self.cast.who(carried.id, role)
        place = in_role.index(self.player)
        five = self._five_around(carried, role)
        names = {other: self.shown[who] for other, who in five.items()}
        calls = {other: self.people[who] for other, who in five.items()}
        first_now = self._now(carried).get(role) == self.player
        return SheetPart(
            carried=carried,
            role=role,
            depth=place + 1,
            call=call_for(carried.call, calls, self.language),
            names=names,
            part=part_of(carried.play, role, names, self.language),
            stands_in_for=() if first_now else self._shown(in_role[:place]),
            for_now=tuple(self._for_now(carried, role, five)),
            others=other_calls(carried.play, calls, self.language),
        )

    def _shown(self, players: Iterable[PlayerId]) -> tuple[str, ...]:
        return tuple(self.shown[who] for who in players if who not in self.out)

    def _of_play(self, carried: CarriedPlay) -> list[Assignment]:
        return [a for a in self.cast.assignments if a.play == carried.id]

    def _now(self, carried: CarriedPlay) -> dict[Role, PlayerId]:
        """The first five that can play."""
        return five_of(self._of_play(carried), self.out)

    def _five_around(self, carried: CarriedPlay, role: Role) -> dict[Role, PlayerId]:
        """Who is on the floor when this player runs this role: the first in each other role.

        Where that would be somebody already placed, or out, the next in depth steps in.
        """
        possible = [
            a for a in self._of_play(carried) if (a.role == role) == (a.player == self.player)
        ]
        return {role: self.player, **five_of(possible, self.out)}

    def _for_now(
        self, carried: CarriedPlay, role: Role, five: Mapping[Role, PlayerId]
    ) -> Iterator[str]:
        """What is different from the cast as it is written, because somebody is out."""
        say, now = self.language.say, self._now(carried)
        firsts = {a.role: a.player for a in self._of_play(carried) if a.depth == 1}
        mine = next((other for other, who in now.items() if who == self.player), None)
        if firsts.get(role) == self.player and mine not in {None, role} and role in now:
            yield say(ELSEWHERE_NOW, role=str(mine), who=self.shown[now[role]])
        for other, first in firsts.items():
            if first not in self.out:
                continue
            who = five.get(other)
            if other == role and now.get(role) == self.player:
                yield say(FIRST_NOW, who=self.shown[first])
            elif who is None:
                yield say(OPEN_NOW, role=other)
            elif other != role:
                yield say(IN_PLACE, who=self.shown[who], role=other, first=self.shown[first])
