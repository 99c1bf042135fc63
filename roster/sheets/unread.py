"""Who has a page of their own and has not confirmed there what the team carries."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Exists, OuterRef

from roster.cast.changes import package_with_cast
from roster.models import Casting, GotIt, Player, PlayerLink, Team


@dataclass(frozen=True, slots=True)
class Unread:
    """A player with the calls of the plays whose carried revision they have not confirmed."""

    player: Player
    calls: tuple[str, ...]


def unread(team: Team, squad: Iterable[Player]) -> tuple[Unread, ...]:
    """Those of the squad who hold a link and have something left to confirm: four queries.

    Who reads on paper only has no page on which to say so, and is left out.
    """
    said = GotIt.objects.filter(
        player=OuterRef("player"),
        entry=OuterRef("entry"),
        role=OuterRef("role"),
        revision=OuterRef("entry__revision"),
    )
    linked = PlayerLink.objects.filter(
        player=OuterRef("player"), is_guardians=False, withdrawn_at=None
    )
    rows = Casting.objects.filter(entry__team=team, entry__dropped_on=None)
    rows = rows.filter(Exists(linked), ~Exists(said)).order_by("entry__priority", "entry__call")
    heard = {entry.pk: entry.spoken() for entry in package_with_cast(team)}
    calls: dict[int, list[str]] = {}
    for player, entry in rows.values_list("player_id", "entry_id"):
        calls.setdefault(player, []).append(heard[entry])
    return tuple(
        Unread(player, tuple(dict.fromkeys(calls[player.pk])))
        for player in squad
        if player.pk in calls
    )
