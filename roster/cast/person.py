"""One player's roles across the package, and their load against the others."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from plays.core.play import ROLES, Role
from plays.values import play_value
from roster.bridge import player_value
from roster.cast.counted import Counted, counted
from roster.cast.loaded import TeamCast
from roster.core.cast import DEPTHS
from roster.core.coverage.absence import absences
from roster.core.fit import fit
from roster.core.fit import in_words as fit_in_words
from roster.models import PackagePlay, Player


@dataclass(frozen=True, slots=True)
class RoleOf:
    """One place in the cast; ``alone`` when nobody else who can play knows the role."""

    entry: PackagePlay
    call: str
    role: Role
    depth: int
    hundredths: int | None  # None where the fit would rest on nothing that is rated
    words: str
    alone: bool
    first_now: bool


@dataclass(frozen=True, slots=True)
class Load:
    """How many places a player has at each depth, and in how many different role numbers."""

    player: Player
    name: str
    by_depth: tuple[int, ...]
    roles: int
    is_shown: bool

    @property
    def total(self) -> int:
        return sum(self.by_depth)


@dataclass(frozen=True)
class PersonPage:
    known: TeamCast
    player: Player

    @cached_property
    def roles(self) -> list[RoleOf]:
        """In the order of the package, first depth first."""
        mine = sorted(self.known.cast.of(self.player.pk), key=lambda a: a.depth)
        return [
            self._role(entry, a.role, a.depth)
            for entry in self.known.entries
            for a in mine
            if a.play == entry.pk
        ]

    def _role(self, entry: PackagePlay, role: Role, depth: int) -> RoleOf:
        value = play_value(entry.revision)
        found = fit(value.needs, player_value(self.player), role, self.known.group)
        others = set(self.known.cast.who(entry.pk, role)) - {self.player.pk} - self.known.out
        return RoleOf(
            entry,
            self.known.names.play(entry.pk),
            role,
            depth,
            found.hundredths,
            fit_in_words(found, thrower=role == value.thrower, language=self.known.language),
            not others,
            self.known.first_five(entry.pk).get(role) == self.player.pk,
        )

    @property
    def alone(self) -> list[RoleOf]:
        return [role for role in self.roles if role.alone]

    @cached_property
    def loads(self) -> list[Load]:
        """Everybody, the most places first."""
        found = [self._load(player) for player in self.known.players.values()]
        return sorted(found, key=lambda load: -load.total)

    def _load(self, player: Player) -> Load:
        mine = self.known.cast.of(player.pk)
        return Load(
            player,
            self.known.names.player(player.pk),
            tuple(sum(a.depth == depth for a in mine) for depth in DEPTHS),
            len({a.role for a in mine}),
            player.pk == self.player.pk,
        )

    @property
    def own(self) -> Load:
        return next(load for load in self.loads if load.is_shown)

    @property
    def most(self) -> int:
        return max(1, *(load.total for load in self.loads))

    @property
    def fair(self) -> float:
        """Places that each would have if all were shared alike."""
        return sum(load.total for load in self.loads) / max(1, len(self.loads))

    @cached_property
    def counted(self) -> Counted:
        """The fives that count, as coverage has them by itself."""
        return counted(self.known, "")

    @cached_property
    def missed(self) -> int | None:
        """By how many hundredths coverage falls without this player; None where it cannot."""
        squad = self.known.squad(only=self.counted.fives)
        if self.player.pk in self.known.out or len(set(squad.players) - self.known.out) <= len(
            ROLES
        ):
            return None
        found = {absence.out: absence.lost for absence in absences(squad)}
        lost = found.get((self.player.pk,))
        return None if lost is None else round(100 * lost)
