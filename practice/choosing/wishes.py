"""Changing what a coach wants of a package, and taking the chosen plays into it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, Final

from django.db import transaction
from django.utils import timezone

from plays.models import Play
from practice.models import PackageWishes
from roster.models import PackagePlay, Team
from roster.package.taking import take_up_all
from shared.models import User
from shared.record import note_change

IN, OUT, FREE = "in", "out", "free"
VERBS: Final[Mapping[str, str]] = {
    IN: "wants in the package",
    OUT: "wants out of the package",
    FREE: "leaves to the choice",
}


@transaction.atomic
def wish(team: Team, user: User, play: Play, want: str) -> None:
    """Want a play in, out, or neither. Said twice it is said once. Raises KeyError."""
    verb = VERBS[want]
    wishes = _held(team)
    before = list(wishes.pins), list(wishes.bans)
    wishes.pins = _with(wishes.pins, play.pk, there=want == IN)
    wishes.bans = _with(wishes.bans, play.pk, there=want == OUT)
    if (wishes.pins, wishes.bans) != before:
        wishes.save(update_fields=["pins", "bans"])
        note_change(user, verb, play, team=team.pk)


@transaction.atomic
def set_terms(team: Team, user: User, terms: Mapping[str, Any]) -> None:
    """Keep for what, until when and against whom plays are chosen: fields of PackageWishes."""
    wishes = _held(team)
    changed = [name for name, value in terms.items() if getattr(wishes, name) != value]
    for name in changed:
        setattr(wishes, name, terms[name])
    if changed:
        wishes.save(update_fields=changed)
        note_change(user, "set what a package is for", team, team=team.pk, after=sorted(changed))


@transaction.atomic
def take(team: Team, user: User, plays: Iterable[Play]) -> list[PackagePlay]:
    """Take plays into the package, and keep which these were, for taking them back."""
    wishes = _held(team)
    fresh = take_up_all(team, user, plays)
    if fresh:
        wishes.taken = [entry.pk for entry in fresh]
        wishes.save(update_fields=["taken"])
    return fresh


@transaction.atomic
def take_back(team: Team, user: User) -> list[PackagePlay]:
    """Take out again what was last taken in at once; casts and reps stay for another time."""
    wishes = _held(team)
    entries = list(team.package.all().carried().filter(pk__in=wishes.taken))
    for entry in entries:
        entry.dropped_on = timezone.localdate()
        entry.save(update_fields=["dropped_on"])
        note_change(user, "dropped", entry, team=team.pk)
    if wishes.taken:
        wishes.taken = []
        wishes.save(update_fields=["taken"])
    return entries


def _held(team: Team) -> PackageWishes:
    """The team's wishes; nobody else changes them before the transaction ends."""
    PackageWishes.objects.get_or_create(team=team)
    return PackageWishes.objects.select_for_update().get(team=team)


def _with(plays: Iterable[int], play: int, *, there: bool) -> list[int]:
    rest = [each for each in plays if each != play]
    return sorted([*rest, play]) if there else rest
