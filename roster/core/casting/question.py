"""What a cast for a whole package must respect, and what it should strive for.

These are values only. ``quick`` answers at once, play by play; ``casting_model`` turns the
question into an integer programme, ``casting_search`` solves it, ``conflict`` says which locks
cannot hold together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from functools import cached_property
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from plays.core.play import ROLES, AgeGroup, Need, Role
from roster.core.cast import DEPTHS, Cast, Lesson, PlayerId, PlayId
from roster.core.fit import fit_table
from roster.core.people import Availability, Player

Numbers = NDArray[np.float64]
Counts = NDArray[np.int64]


class BadCastingError(ValueError):
    """A casting question that contradicts itself in its form."""


class Lock(NamedTuple):
    """This player in this role, at this depth or, with None, at any."""

    player: PlayerId
    play: PlayId
    role: Role
    depth: int | None = None


class Ban(NamedTuple):
    """This player not in this role; None stands for every play, every role."""

    player: PlayerId
    play: PlayId | None = None
    role: Role | None = None


@dataclass(frozen=True, slots=True)
class CastPlay:
    """A play of the package: what its roles need, how much it counts, and its unit, if any.

    First-depth players come from the ``unit`` as far as its members can play.
    """

    id: PlayId
    needs: tuple[Need, ...] = ()
    priority: float = 1.0
    unit: tuple[PlayerId, ...] = ()


@dataclass(frozen=True, slots=True)
class Limits:
    """What one player is asked to learn at most; None lets the tool choose.

    ``slots`` counts the slots over the package, ``roles`` the different role numbers. Half of
    the slots for a player whose availability is limited.
    """

    slots: int | None = None
    roles: int | None = None


@dataclass(frozen=True, slots=True)
class Wishes:
    """How much each wish weighs against fit, which runs from 0 to 1 for each slot.

    All numbers are our own choice. ``kept`` is for a slot that stays as it is, ``learnt`` for a
    role that the player knows already (times how well, 0 to 1).
    """

    depths: tuple[float, float, float] = (1.0, 0.6, 0.35)
    kept: float = 0.05
    learnt: float = 0.05
    position: float = 0.05  # each step from the nearest usual position to the role's number
    role: float = 0.03  # each different role number that a player has
    uneven: float = 0.02  # each slot above or below the fair share
    left_out: float = 0.25  # each slot below half of the fair share, besides
    two_in_play: float = 0.30  # each second role of one player in one play
    limited: float = 0.15  # a first-depth slot for somebody whose availability is limited
    outside_unit: float = 2.0
    hole: float = 4.0


USUAL_ROLES: Final = 3
USUAL_SLACK: Final = 1.35  # slots that one player may have, over the fair share


@dataclass(frozen=True)
class CastingQuestion:
    """All that a casting has to answer. Raises BadCastingError for ids used twice and the like.

    ``never_together`` holds groups that must not stand in one first-depth five. ``learnt``
    says how well, 0 to 1, a player knows a role already.
    """

    plays: tuple[CastPlay, ...]
    players: tuple[Player, ...]
    depth: int = 2
    group: AgeGroup = AgeGroup.ADULT
    locks: tuple[Lock, ...] = ()
    bans: tuple[Ban, ...] = ()
    never_together: tuple[tuple[PlayerId, ...], ...] = ()
    limits: Limits = field(default_factory=Limits)
    wishes: Wishes = field(default_factory=Wishes)
    present: Cast = field(default_factory=Cast)
    learnt: Mapping[Lesson, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if self.depth not in DEPTHS:
            raise BadCastingError(f"depth {self.depth} is not one of {DEPTHS}")
        for kind, ids in (("play", self.play_index), ("player", self.player_index)):
            if len(ids) < len(self.plays if kind == "play" else self.players):
                raise BadCastingError(f"a {kind} is there twice")
        for lock in self.locks:
            if lock.play not in self.play_index or lock.role not in ROLES:
                raise BadCastingError(f"no such role: {lock}")

    @cached_property
    def play_index(self) -> dict[PlayId, int]:
        return {play.id: index for index, play in enumerate(self.plays)}

    @cached_property
    def player_index(self) -> dict[PlayerId, int]:
        return {player.id: index for index, player in enumerate(self.players)}

    @cached_property
    def fits(self) -> Numbers:
        """(players, plays, 5): how well everybody fits every role."""
        return fit_table([play.needs for play in self.plays], self.players, self.group)

    @cached_property
    def allowed(self) -> NDArray[np.bool_]:
        """(players, plays, 5): who may be cast in what; nobody who is out or banned."""
        allowed = np.zeros((len(self.players), len(self.plays), len(ROLES)), dtype=np.bool_)
        allowed[[player.can_play for player in self.players]] = True
        for ban in self.bans:
            if ban.player not in self.player_index:
                continue
            if ban.play is not None and ban.play not in self.play_index:
                continue
            play = slice(None) if ban.play is None else self.play_index[ban.play]
            role = slice(None) if ban.role is None else ROLES.index(ban.role)
            allowed[self.player_index[ban.player], play, role] = False
        return allowed

    @cached_property
    def worth(self) -> Numbers:
        """(players, plays, 5, depth): what it is worth to fill a slot with a player."""
        wishes = self.wishes
        depths = np.array(wishes.depths[: self.depth])
        priority = np.array([play.priority for play in self.plays])
        fits = self.fits - wishes.position * self._steps_away()[:, None, :]
        worth: Numbers = np.asarray(fits[..., None] * depths * priority[:, None, None])
        limited = [player.availability is Availability.LIMITED for player in self.players]
        worth[limited, ..., 0] -= wishes.limited
        for lesson, known in self.learnt.items():
            place = self._place(lesson.player, lesson.play, lesson.role)
            if place is not None:
                worth[place] += wishes.learnt * known
        for assignment in self.present.assignments:
            place = self._place(assignment.player, assignment.play, assignment.role)
            if place is not None and assignment.depth <= self.depth:
                worth[(*place, assignment.depth - 1)] += wishes.kept
        return worth

    def fair_shares(self) -> Numbers:
        """(players,): slots that each would have if all were shared; half for the limited."""
        parts = {Availability.AVAILABLE: 1.0, Availability.LIMITED: 0.5, Availability.OUT: 0.0}
        part = np.array([parts[player.availability] for player in self.players])
        slots = len(self.plays) * len(ROLES) * self.depth
        return np.asarray(slots * part / max(part.sum(), 0.5))

    def least_slots(self) -> Numbers:
        """(players,): half of the fair share, below which somebody counts as left out."""
        return np.asarray(np.floor(self.fair_shares() / 2))

    def most_slots(self) -> Counts:
        """(players,): the most slots for each; chosen from the fair share where none is given."""
        if self.limits.slots is not None:
            limited = [p.availability is Availability.LIMITED for p in self.players]
            most = np.full(len(self.players), self.limits.slots, dtype=np.int64)
            return np.where(limited, -(-most // 2), most)
        locked = [sum(lock.player == p.id for lock in self.locks) for p in self.players]
        chosen = np.ceil(USUAL_SLACK * self.fair_shares()).astype(np.int64)
        return np.asarray(np.maximum(chosen, locked), dtype=np.int64)

    def most_roles(self) -> Counts:
        """(players,): the most different role numbers for each."""
        if self.limits.roles is not None:
            return np.full(len(self.players), self.limits.roles, dtype=np.int64)
        locked = [{lock.role for lock in self.locks if lock.player == p.id} for p in self.players]
        most = [max(USUAL_ROLES, len(roles)) for roles in locked]
        return np.array(most, dtype=np.int64)

    def _steps_away(self) -> Numbers:
        """(players, 5): steps from the usual positions to each role's number.

        A role is no position, but most coaches number their plays so (common practice, no
        source). Who has no usual position counts as one step away, where others have one.
        """
        unknown = 1.0 if any(player.positions for player in self.players) else 0.0
        rows = [
            [
                min((abs(int(role) - int(usual)) for usual in player.positions), default=unknown)
                for role in ROLES
            ]
            for player in self.players
        ]
        return np.array(rows, dtype=np.float64).reshape(len(self.players), len(ROLES))

    def _place(self, player: PlayerId, play: PlayId, role: Role) -> tuple[int, int, int] | None:
        if player not in self.player_index or play not in self.play_index:
            return None
        return self.player_index[player], self.play_index[play], ROLES.index(role)


class Ending(StrEnum):
    """Why a casting ended where it did."""

    PROVED = "proved"  # nothing better exists
    SETTLED = "settled"  # no single improvement was found; the gap says what may be missing
    TIME = "time"
    CANCELLED = "cancelled"
    QUICK = "quick"  # play by play, nothing shared over the package
    CONFLICT = "conflict"  # the locks cannot hold together


@dataclass(frozen=True, slots=True)
class CastingAnswer:
    """An answer: the cast, its value, and the bound that no cast can exceed.

    ``value`` and ``bound`` are on the scale of ``score``; ``bound`` is None where none was
    worked out. ``conflict`` names the smallest set of locks that cannot hold together.
    """

    cast: Cast
    ending: Ending
    value: float = 0.0
    bound: float | None = None
    conflict: tuple[Lock, ...] = ()

    @property
    def gap(self) -> float | None:
        """By what part of the bound the value may fall short of the best; 0 when proved."""
        if self.ending is Ending.PROVED:
            return 0.0
        if self.bound is None:
            return None
        return max(0.0, self.bound - self.value) / max(1e-9, abs(self.bound))
