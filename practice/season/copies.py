"""A team's next season: a new team that begins with what the old one takes along.

Nothing of the old season moves: its reps, dates and sheets stay where they were made. What comes
along is copied row by row, in a number of queries that does not grow with the squad.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, Final

from dateutil.relativedelta import relativedelta
from django.db import transaction

from practice.models import Drill, PlanPattern
from roster.models import (
    CastBan,
    Casting,
    CastLock,
    Duty,
    KeptApart,
    PackagePlay,
    Player,
    Staff,
    Team,
    Unit,
)
from shared.models import User
from shared.record import note_change
from shared.rows import Row, again

FIVE: Final = 5


@dataclass(frozen=True, slots=True)
class TakenAlong:
    """What a new season begins with. A cast needs its package; a wish, those it is about."""

    players: frozenset[int]
    package: bool = True
    cast: bool = True
    units: bool = True
    patterns: bool = True
    staff: bool = True


@transaction.atomic
def begin_season(old: Team, new: Team, along: TakenAlong, user: User) -> Team:
    """Save ``new`` with what is taken along from ``old``; who asks is a head coach of it."""
    new.save()
    players = _players(old, new, along.players)
    units = _units(old, new, players) if along.units else {}
    if along.package:
        entries = _package(old, new, units)
        if along.cast:
            _cast(old, new, players, entries)
    if along.patterns:
        _patterns(old, new)
    _staff(old, new, user, everybody=along.staff)
    note_change(user, "began a season", new, team=new.pk, before=str(old))
    return new


def a_year_on(day: date | None) -> date | None:
    """The same day of the next year; the 28th of February stands in for the 29th."""
    return day + relativedelta(years=1) if day else None


def _saved(model: type[Row], made: dict[int, Row]) -> dict[int, Row]:
    """New rows, saved at once, by the keys of those that they were made from."""
    model._default_manager.bulk_create(made.values())
    return made


def _players(old: Team, new: Team, keys: frozenset[int]) -> dict[int, Player]:
    rows = old.players.present().filter(pk__in=keys)
    return _saved(Player, {row.pk: again(row, team=new) for row in rows})


def _units(old: Team, new: Team, players: dict[int, Player]) -> dict[int, Unit]:
    """The units of whom all five come along."""
    whole = [
        unit
        for unit in old.units.prefetch_related("members")
        if sum(member.pk in players for member in unit.members.all()) == FIVE
    ]
    made = _saved(Unit, {unit.pk: again(unit, team=new) for unit in whole})
    through = Unit.members.through
    through._default_manager.bulk_create(
        through(unit_id=made[unit.pk].pk, player_id=players[member.pk].pk)
        for unit in whole
        for member in unit.members.all()
    )
    return made


def _package(old: Team, new: Team, units: dict[int, Unit]) -> dict[int, PackagePlay]:
    """The plays that are carried now; the days by which they were to be ready are over."""
    return _saved(
        PackagePlay,
        {
            row.pk: again(
                row, team=new, unit=units.get(row.unit_id or 0), ready_by=None, cast_version=0
            )
            for row in old.package.carried()
        },
    )


def _cast(
    old: Team, new: Team, players: dict[int, Player], entries: dict[int, PackagePlay]
) -> None:
    """The places of those who come along, and the wishes that speak of nobody else."""
    Casting.objects.bulk_create(
        again(row, entry=entries[row.entry_id], player=players[row.player_id])
        for row in Casting.objects.filter(entry__in=entries, player__in=players)
    )
    CastLock.objects.bulk_create(
        again(row, entry=entries[row.entry_id], player=players[row.player_id])
        for row in CastLock.objects.filter(entry__in=entries, player__in=players)
    )
    CastBan.objects.bulk_create(
        again(
            row,
            player=players[row.player_id],
            entry=entries[row.entry_id] if row.entry_id else None,
        )
        for row in CastBan.objects.filter(player__in=players)
        if row.entry_id is None or row.entry_id in entries
    )
    KeptApart.objects.bulk_create(
        _apart(new, players[row.one_id], players[row.other_id])
        for row in old.kept_apart.filter(one__in=players, other__in=players)
    )


def _patterns(old: Team, new: Team) -> None:
    """The kept plans, and the drills that they and later ones are made of."""
    drills = _saved(Drill, {row.pk: again(row, team=new) for row in old.drills.all()})
    PlanPattern.objects.bulk_create(
        again(row, team=new, blocks=[_with_drill(block, drills) for block in row.blocks])
        for row in old.patterns.all()
    )


def _with_drill(block: dict[str, Any], drills: dict[int, Drill]) -> dict[str, Any]:
    copy = drills.get(block.get("drill") or 0)
    return {**block, "drill": copy.pk} if copy else block


def _apart(team: Team, one: Player, other: Player) -> KeptApart:
    lower, higher = sorted((one, other), key=lambda player: player.pk)
    return KeptApart(team=team, one=lower, other=higher)


def _staff(old: Team, new: Team, user: User, *, everybody: bool) -> None:
    places = {place.user_id: place.duty for place in old.staff_places.all() if everybody}
    if not user.runs_club or not places:
        places[user.pk] = Duty.HEAD
    Staff.objects.bulk_create(
        Staff(team=new, user_id=person, duty=duty) for person, duty in places.items()
    )
