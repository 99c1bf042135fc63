"""Reading and writing the cast of a team."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import cast

from django.db import transaction
from django.db.models import F, QuerySet

from plays.core.play import ROLES, Role
from roster.core.cast import Assignment, Cast
from roster.models import DEPTHS, Casting, PackagePlay, Player, Team
from shared.models import User
from shared.record import note_change

Slots = Mapping[tuple[Role, int], Player]


class ChangedMeanwhileError(Exception):
    """Somebody else has changed this cast since it was shown."""


@dataclass(frozen=True, slots=True)
class CastCell:
    """One role of one play in the grid: the players by depth, None where nobody is."""

    role: Role
    players: tuple[Player | None, ...]

    @property
    def is_open(self) -> bool:
        return self.players[0] is None


@dataclass(frozen=True, slots=True)
class CastRow:
    entry: PackagePlay
    cells: tuple[CastCell, ...]


def package_with_cast(team: Team) -> QuerySet[PackagePlay]:
    """The plays a team carries, with their cast: three queries whatever the size."""
    return team.package.all().carried().with_cast().select_related("play", "revision")


def grid(team: Team) -> list[CastRow]:
    """Plays by roles, with names at three depths."""
    return [row_of(entry) for entry in package_with_cast(team)]


def row_of(entry: PackagePlay) -> CastRow:
    filled = {(c.role, c.depth): c.player for c in entry.castings.all()}
    cells = tuple(
        CastCell(role, tuple(filled.get((role, depth)) for depth in DEPTHS)) for role in ROLES
    )
    return CastRow(entry, cells)


def cast_value(entries: Iterable[PackagePlay]) -> Cast:
    """The cast as the core computes with it, by primary keys."""
    return Cast(
        tuple(
            Assignment(entry.pk, cast("Role", casting.role), casting.depth, casting.player_id)
            for entry in entries
            for casting in entry.castings.all()
        )
    )


@transaction.atomic
def save_cast(entry: PackagePlay, slots: Slots, user: User, *, seen_version: int) -> None:
    """Write the whole cast of one play. Raises ChangedMeanwhileError, having written nothing."""
    same = PackagePlay.objects.filter(pk=entry.pk, cast_version=seen_version)
    if not same.update(cast_version=F("cast_version") + 1):
        raise ChangedMeanwhileError
    before = _names(entry.castings.select_related("player"))
    entry.castings.all().delete()
    rows = [
        Casting(entry=entry, role=role, depth=depth, player=player)
        for (role, depth), player in slots.items()
    ]
    Casting.objects.bulk_create(rows)
    note_change(user, "cast", entry, team=entry.team_id, before=before, after=_names(rows))


def _names(castings: Iterable[Casting]) -> dict[str, str]:
    return {f"{casting.role}.{casting.depth}": str(casting.player) for casting in castings}
