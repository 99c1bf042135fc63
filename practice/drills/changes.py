"""Taking drills over from another team."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from django.db import transaction

from practice.models import Drill
from roster.models import Team


@transaction.atomic
def take_over(team: Team, drills: Iterable[Drill]) -> list[Drill]:
    """Copies of other teams' drills, with their pictures; a name that is taken gets a number."""
    taken = {name.casefold() for name in team.drills.values_list("name", flat=True)}
    made = []
    for drill in drills:
        copy = Drill(
            team=team,
            name=_free(drill.name, taken),
            minutes=drill.minutes,
            purpose=drill.purpose,
            equipment=drill.equipment,
            text=drill.text,
            picture=bytes(drill.picture),
            picture_mark=drill.picture_mark,
        )
        taken.add(copy.name.casefold())
        made.append(copy)
    Drill.objects.bulk_create(made)
    return made


def _free(name: str, taken: Collection[str]) -> str:
    if name.casefold() not in taken:
        return name
    number = 2
    while f"{name[:55]} {number}".casefold() in taken:
        number += 1
    return f"{name[:55]} {number}"
