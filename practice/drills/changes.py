"""Taking drills over from another team."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from django.db import transaction

from practice.models import Drill
from roster.models import Team
from shared.rows import again


@transaction.atomic
def take_over(team: Team, drills: Iterable[Drill]) -> list[Drill]:
    """Copies of other teams' drills, with their pictures; a name that is taken gets a number."""
    taken = {name.casefold() for name in team.drills.values_list("name", flat=True)}
    keys = [drill.pk for drill in drills]
    whole = Drill.objects.in_bulk(keys)  # those of a form come without their pictures
    made = []
    for drill in map(whole.__getitem__, keys):
        copy = again(drill, team=team, name=_free(drill.name, taken))
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
