"""The demo club as plain values: its people, what each team carries, and who plays which role.

Everybody and everything here is invented. Players are told by their shirt number, a string as
it is printed; plays by their key, the name of their file in ``plays``. Heights are centimetres.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Final, Literal

from plays.core.play import ROLES, AgeGroup, Quality, Role, RuleSet
from roster.core.cast import Assignment, Cast
from roster.core.people import RATED, Availability

CLUB: Final = "BC Lindwater"
SEASON: Final = "2026/27"
PLAYS: Final = Path(__file__).resolve().parent / "plays"

Number = str
Duty = Literal["head", "assistant"]
Depths = tuple[Number, ...]


@dataclass(frozen=True, slots=True)
class Member:
    """A player: ``ratings`` in the order of RATED, ``minutes`` as expected in a game."""

    name: str
    number: Number
    height_cm: int | None
    positions: tuple[Role, ...]
    ratings: tuple[int | None, ...]
    minutes: int
    availability: Availability = Availability.AVAILABLE

    def rated(self) -> Mapping[Quality, int | None]:
        return dict(zip(RATED, self.ratings, strict=True))


@dataclass(frozen=True, slots=True)
class Coach:
    """Somebody of the staff; ``keeps_library`` for who looks after the plays of the club."""

    name: str
    username: str
    duty: Duty
    keeps_library: bool = False


@dataclass(frozen=True, slots=True)
class Carried:
    """A play as a team carries it: ``priority`` 1 to 3; ``cast`` gives first, second, third."""

    play: str
    call: str
    signal: str
    priority: int
    cast: Mapping[Role, Depths]

    def assignments(self) -> Iterator[Assignment]:
        for role in ROLES:
            for depth, number in enumerate(self.cast.get(role, ()), start=1):
                yield Assignment(self.play, role, depth, number)


@dataclass(frozen=True, slots=True)
class DemoSquad:
    """A team: its people, its package in order of priority, and the fives it practises in.

    ``dropped`` are plays that it began the season with and carries no longer.
    """

    name: str
    age_group: AgeGroup
    rule_set: RuleSet
    staff: tuple[Coach, ...]
    members: tuple[Member, ...]
    package: tuple[Carried, ...]
    units: Mapping[str, tuple[Number, ...]]
    dropped: tuple[Carried, ...] = ()

    def member(self, number: Number) -> Member:
        """Who wears this number. Raises KeyError."""
        return {member.number: member for member in self.members}[number]

    def cast(self) -> Cast:
        """The cast of the whole package, as the head coach made it by hand."""
        return Cast(tuple(a for carried in self.package for a in carried.assignments()))


def _cast(one: str, two: str, three: str, four: str, five: str) -> Mapping[Role, Depths]:
    """Each text holds the numbers of one role, first to third."""
    texts = (one, two, three, four, five)
    return MappingProxyType(
        {role: tuple(text.split()) for role, text in zip(ROLES, texts, strict=True)}
    )


_KEEPER: Final = Coach("Hanne Vesterlund", "hanne", "head", keeps_library=True)

HERONS: Final = DemoSquad(
    name="Lindwater Herons",
    age_group=AgeGroup.U16,
    rule_set=RuleSet.FIBA,
    staff=(
        _KEEPER,
        Coach("Tariq Benmoussa", "tariq", "assistant"),
        Coach("Mirela Ardelean", "mirela", "assistant"),
    ),
    # Ratings: passing, strength, speed, finishing, shooting, screening, reading.
    members=(
        Member("Noor", "4", 163, ("1",), (5, 2, 4, 3, 3, 2, 5), 26),
        Member("Zoë", "5", 172, ("3",), (3, 3, 4, 3, 3, 3, 3), 23),
        Member("Åse", "6", 184, ("5",), (2, 4, 2, 4, 2, 4, 3), 21),
        Member("Ida", "7", 170, ("2", "3"), (3, 3, 4, 3, 4, 3, 4), 24),
        Member("Łucja", "8", 179, ("4", "5"), (3, 4, 2, 3, 2, 4, 3), 14),
        Member("Şebnem", "9", 177, ("4",), (3, 3, 3, 3, 4, 4, 4), 22),
        Member(
            "Chiara", "10", 168, ("2",), (3, 2, 3, 3, 4, 2, 3), 0, availability=Availability.OUT
        ),
        Member("Saoirse", "11", 175, ("3", "4"), (3, 3, 3, 3, 3, 3, None), 12),
        Member("Ida", "12", 181, ("5", "4"), (3, 3, 4, 4, 2, 3, 3), 17),
        Member("Ngozi", "13", 183, ("5",), (2, 5, 2, 3, 1, 4, None), 9),
        Member("Inés", "14", 165, ("1", "2"), (4, 2, 3, 3, 3, 2, 4), 15),
        Member("Mei", "15", 161, ("2",), (3, 1, 4, 2, 5, 2, 3), 13),
        Member(
            "Káťa",
            "21",
            None,
            ("1", "2"),
            (3, None, 3, None, None, None, None),
            4,
            availability=Availability.LIMITED,
        ),
    ),
    package=(
        Carried(
            "weathervane",
            "Vane",
            "one arm turns in a circle",
            1,
            _cast("14 4 21", "7 15 10", "5 11 14", "9 8 11", "6 12 13"),
        ),
        Carried(
            "gangway",
            "Gangway {5}",
            "flat hand slides forward",
            1,
            _cast("4 14 21", "7 15 14", "5 11 15", "9 8 11", "6 12 13"),
        ),
        Carried(
            "oar-rack",
            "Oars {3}",
            "both fists pull to the chest",
            1,
            _cast("4 14 21", "5 11 15", "7 15 10", "9 8 11", "6 13 12"),
        ),
        Carried(
            "harbour-light",
            "Harbour {2}",
            "hand opens and closes over the head",
            1,
            _cast("4 14 21", "7 15 10", "5 11 15", "9 8 12", "6 12 13"),
        ),
        Carried(
            "sluice",
            "Lock {2}",
            "two hands close like a door",
            2,
            _cast("4 14 21", "15 7 10", "5 11", "9 8 11", "6 13 12"),
        ),
        Carried(
            "tow-rope",
            "Rope",
            "fist over fist",
            2,
            _cast("4 14 21", "7 10 15", "5 15 11", "9 8", "12 6 13"),
        ),
        Carried(
            "breakwater",
            "Wall",
            "forearm held level",
            2,
            _cast("4 14", "7 15 10", "5 11 21", "9 8", "12 6 13"),
        ),
        Carried(
            "tidegate",
            "Tide {2}",
            "one hand parts the air, then points",
            2,
            _cast("4 14 21", "7 15 10", "5 11", "9 8", "6 12 13"),
        ),
        Carried(
            "foghorn",
            "Foghorn",
            "hand at the ear",
            3,
            _cast("4 14", "7 15 21", "5 11 10", "9 12 8", "6 13 12"),
        ),
        Carried(
            "night-ferry",
            "Ferry {4}",
            "none: called in the time-out",
            3,
            _cast("4 14", "15 7", "7 5", "12 9", "5 11"),
        ),
    ),
    units=MappingProxyType(
        {
            "Harbour": ("4", "7", "5", "9", "6"),
            "Lake": ("14", "15", "11", "8", "12"),
            "Small boats": ("4", "14", "7", "5", "12"),
        }
    ),
    dropped=(
        Carried(
            "bow-wave", "Wave", "a hand rolls", 2, _cast("4 14", "7 15", "5 11", "9 8", "6 12")
        ),
    ),
)

TEALS: Final = DemoSquad(
    name="Lindwater Teals",
    age_group=AgeGroup.U12,
    rule_set=RuleSet.NFHS,
    staff=(
        Coach("Jonas Okonjo", "jonas", "head"),
        Coach("Mirela Ardelean", "mirela", "assistant"),
    ),
    members=(
        Member("Pim", "3", 141, ("1",), (3, 2, 4, 3, 2, 2, 3), 16),
        Member("Aoife", "5", 147, ("1", "2"), (4, 3, 3, 3, 3, 3, 4), 18),
        Member("Théo", "6", 144, ("2",), (2, 2, 3, 2, 2, None, 2), 14),
        Member("Zofia", "7", 150, ("2", "3"), (3, 3, 3, 3, 3, 3, 3), 17),
        Member("Emre", "8", 148, ("3",), (2, 3, 4, 4, 2, 2, 2), 17),
        Member("Lotte", "9", 146, ("3",), (2, 2, 4, 3, 2, 2, None), 16),
        Member("Kofi", "10", 156, ("4",), (2, 4, 3, 3, 2, 3, 2), 16),
        Member("Minh", "11", 143, ("2", "4"), (3, None, 3, 2, 2, None, 3), 15),
        Member("Björk", "12", 158, ("5",), (2, 4, 2, 3, 1, 4, 3), 16),
        Member(
            "Nadège",
            "15",
            154,
            ("4", "5"),
            (2, 3, 3, 2, None, 3, 2),
            15,
            availability=Availability.LIMITED,
        ),
    ),
    package=(
        Carried(
            "duckboard",
            "Planks",
            "hands quack",
            1,
            _cast("5 7 3", "3 6 11", "8 9", "10 15", "12 11"),
        ),
        Carried(
            "lamp-row",
            "Lamps",
            "hand opens over the head",
            1,
            _cast("5 3", "8 9 6", "7 11", "10 6", "12 15 10"),
        ),
        Carried(
            "open-water",
            "Open water",
            "arms wide",
            3,
            _cast("5 7", "9 6", "3 11", "10 8", "12 15"),
        ),
    ),
    units=MappingProxyType(
        {
            "Red boats": ("5", "3", "8", "10", "12"),
            "Blue boats": ("7", "6", "9", "15", "11"),
        }
    ),
)

SQUADS: Final = (HERONS, TEALS)

SPRINTS: Final[Mapping[str, Mapping[Number, tuple[float, float]]]] = MappingProxyType(
    {
        HERONS.name: {
            "4": (1.93, 3.38),
            "5": (1.97, 3.44),
            "6": (2.14, 3.77),
            "7": (1.95, 3.41),
            "9": (2.05, 3.58),
            "15": (1.94, 3.40),
        }
    }
)
"""10 m and 20 m times in seconds, by team and number, of those whom a coach has timed; the gate
stood the usual half metre in front of the start."""
