"""The cast and the bench card as values to print."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from django.utils.translation import gettext as _

from plays.core.play import ROLES, Role
from roster.cast.loaded import TeamCast
from roster.core.cast import DEPTHS, Slot
from roster.core.paper.bench_pdf import BenchColumn, BenchPlay
from roster.core.paper.grid_pdf import GridLine, GridName, GridSheet
from roster.core.paper.leaf import all_as_of, as_of
from roster.coverage.five import bench, first_choice
from roster.models import PackagePlay, Unit


def grid_sheet(known: TeamCast, made_on: date) -> GridSheet:
    """The grid with names by depth, and who steps in for whom."""
    lines = tuple(_line(known, entry) for entry in known.entries)
    return GridSheet(str(known.team), made_on, lines)


def _line(known: TeamCast, entry: PackagePlay) -> GridLine:
    filled, now = known.cast.by_slot(), known.first_five(entry.pk)

    def name(role: Role, depth: int) -> GridName:
        who = filled.get(Slot(entry.pk, role, depth))
        if who is None:
            return GridName("")
        steps_in = depth > 1 and now.get(role) == who
        return GridName(known.names.player(who), who in known.out, steps_in)

    cells = tuple(tuple(name(role, depth) for depth in DEPTHS) for role in ROLES)
    return GridLine(known.names.play(entry.pk), entry.play.name, cells)


def plays_dated(known: TeamCast, made_on: date) -> str:
    """As of when each play is shown, by the plays' own names."""
    plays = (
        (entry.play.name, as_of(entry.revision.at, made_on, known.language))
        for entry in known.entries
    )
    return all_as_of(plays, known.language)


def bench_columns(known: TeamCast, on: Sequence[int]) -> list[BenchColumn]:
    """The five asked for, then the units without who is out; else the first five of the cast."""
    fives = [(_("This five"), tuple(on))] if len(on) == len(ROLES) else []
    units = Unit.objects.filter(team=known.team).prefetch_related("members")
    fives += [(unit.name, tuple(m.pk for m in unit.members.all())) for unit in units]
    whole = [(title, five) for title, five in fives if _can_stand(known, five)]
    if not whole and (five := first_choice(known)):
        whole = [(_("First five"), five)]
    return [_column(known, title, five) for title, five in whole]


def _can_stand(known: TeamCast, five: Sequence[int]) -> bool:
    able = set(known.reckoned) - known.out
    return len(five) == len(ROLES) and set(five) <= able


def _column(known: TeamCast, title: str, five: Sequence[int]) -> BenchColumn:
    found = bench(known, five, (), fresh=False)
    plays = tuple(
        BenchPlay(
            line.call,
            line.entry.signal,
            " · ".join(f"{role.role} {role.name}" for role in line.roles),
            tuple((each.call, each.sign) for each in line.others),
        )
        for line in found.can
    )
    people = ", ".join(known.names.player(pk) for pk in found.on)
    return BenchColumn(title, people, plays, tuple(each.call for each in found.cannot))
