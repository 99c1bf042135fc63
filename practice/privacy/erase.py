"""Taking a person out of the club's data: what was done stays, by a number that names nobody.

Reps, called plays, their sums and attendance are the team's history: they keep pointing at the
row, which then holds nothing but "#4817": a number by chance, never the key of the row, under
which pages and older copies know the person. Every other table that points at the player loses
its rows.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any, Final

from django.db import models, transaction
from django.db.models import Q
from django.db.models.functions import Cast
from django.utils import timezone

from plays.models import Revision
from practice.models import (
    Attendance,
    Block,
    CalledPlay,
    CalledRole,
    Drill,
    Game,
    HeldRep,
    PlanPattern,
    Practice,
    Rep,
    RepRole,
    RepSum,
)
from practice.privacy.clearing import begin_clearing
from practice.privacy.held import tables_about_players
from roster.cast.changes import clear_player
from roster.models import PackagePlay, Player, Unit
from roster.squad.records import Swap, swap_of
from shared.models import User
from shared.record import note_change, reword, swapped

HISTORY: Final = (RepRole, CalledRole, RepSum, Attendance)
# Fields in which a coach may have typed a name, by the way from the row to its team.
TYPED: Final[tuple[tuple[type[models.Model], tuple[str, ...], str], ...]] = (
    (Practice, ("notes", "place"), "team"),
    (Game, ("opponent", "place"), "team"),
    (Block, ("title", "notes", "equipment"), "practice__team"),
    (Drill, ("name", "purpose", "equipment", "text"), "team"),
    (PackagePlay, ("call", "signal"), "team"),
    (Unit, ("name",), "team"),
    (PlanPattern, ("name", "blocks"), "team"),
    (Rep, ("call",), "practice__team"),
    (CalledPlay, ("call",), "game__team"),
    (HeldRep, ("tap",), "team"),
)


@dataclass(frozen=True, slots=True)
class Mention:
    """What a coach typed, in which the player's name stands: a text, or a value of JSON."""

    row: models.Model
    field: str
    value: Any
    text: str  # where the name stands, as people read it

    @property
    def longest(self) -> int | None:
        """How many letters the field holds."""
        length: int | None = getattr(self.row._meta.get_field(self.field), "max_length", None)
        return length


def is_erased(player: Player) -> bool:
    return player.anonymous_number is not None


def mentions(player: Player) -> list[Mention]:
    """Where coaches typed the name: a name may be a word, too, so they decide."""
    return list(_mentions(player, swap_of(player, player.call_name, "")))


def plays_naming(player: Player) -> list[str]:
    """Plays that may name the player in a text of their own, a draft or a note of a revision.

    Told and never changed: a published revision stays as it is, and the library is every team's.
    By letters alone, so that a name within a longer word is told, too.
    """
    name = player.name
    written = json.dumps(name)[1:-1]  # as SQLite keeps it; PostgreSQL keeps the letters
    rows = Revision.objects.annotate(said=Cast("document", models.TextField()))
    naming = Q(said__contains=name) | Q(said__contains=written) | Q(note__contains=name)
    found = rows.filter(naming).order_by("play__name").values_list("play__name", flat=True)
    return list(dict.fromkeys(found))


def erase(players: Iterable[Player], user: User | None, *, typed: bool) -> list[str]:
    """Take people out, all or none; with ``typed`` also out of texts that coaches wrote.

    Returns what stands in place of each name from now on. The file is cleaned once for all.
    """
    with transaction.atomic():
        said = [_erase(player, user, typed=typed) for player in players]
        begin_clearing()
    return said


def _erase(player: Player, user: User | None, *, typed: bool) -> str:
    player = Player.objects.select_for_update().get(pk=player.pk)
    if is_erased(player):
        return player.name
    number = _new_number(player.team_id)
    said = f"#{number}"
    swap = swap_of(player, player.call_name, said)
    clear_player(player, user)
    for model, field in tables_about_players():
        if model not in HISTORY:
            model._default_manager.filter(**{field: player}).delete()
    if typed:
        _replace_typed(player, swap)
    reword(player.team_id, swap)
    _empty(player, number, said)
    note_change(user, "erased a player", said, team=player.team_id)
    return said


def _new_number(team: int) -> int:
    """A number of four digits, or of more where a team has erased that many, by chance."""
    rows = Player.objects.filter(team=team, anonymous_number__isnull=False)
    taken = set(rows.values_list("anonymous_number", flat=True))
    while (number := FIRST_NUMBER + secrets.randbelow(FIRST_NUMBER * 9 + 9 * len(taken))) in taken:
        pass
    return number


def _mentions(player: Player, swap: Swap) -> Iterator[Mention]:
    for model, fields, team in TYPED:
        rows = model._default_manager.filter(**{team: player.team_id})
        for row in rows.only(*fields):
            for field in fields:
                value = getattr(row, field)
                found = [text for text in _texts(value) if swap(text) != text]
                if found:
                    yield Mention(row, field, value, " · ".join(found))


def _texts(value: Any) -> Iterator[str]:
    """Every text in a value of JSON."""
    match value:
        case str():
            yield value
        case list():
            for each in value:
                yield from _texts(each)
        case dict():
            for each in value.values():
                yield from _texts(each)


def _replace_typed(player: Player, swap: Swap) -> None:
    for each in _mentions(player, swap):
        value = swapped(each.value, swap)
        if isinstance(value, str):
            value = value[: each.longest]
        type(each.row)._default_manager.filter(pk=each.row.pk).update(**{each.field: value})


FIRST_NUMBER: Final = 1000
NO_NUMBER: Final = "0"  # PostgreSQL cannot order by an empty one; a club's shirts may repeat it


def _empty(player: Player, number: int, said: str) -> None:
    """Nothing of the row says who it was, or how they play."""
    for field in Player._meta.concrete_fields:
        if field.name not in {"id", "team", "name", "left_on"}:
            setattr(player, field.attname, field.get_default())
    player.name, player.anonymous_number = said, number
    player.number = NO_NUMBER
    player.left_on = player.left_on or timezone.localdate()
    player.save()
