"""Everything that is held about one player, from every table that points at them.

The tables are found, not listed: one that is added later is in the copy and in the erasing by
itself. What opens a page is left out, and of team-mates no name.
"""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from collections.abc import Iterator
from typing import Any, Final

from django.core.serializers.json import DjangoJSONEncoder
from django.db import models

from plays.models import Revision
from practice.models import CalledPlay, CalledRole, HeldRep, Rep, RepRole
from roster.core.file.roster import safe_cell
from roster.models import CastStep, Player
from roster.squad.records import swap_of
from shared.models import Change

SECRET: Final = frozenset({"nonce", "digest", "phone"})
SOMEBODY_ELSE: Final = "somebody else"
Facts = dict[str, list[dict[str, Any]]]


def tables_about_players() -> tuple[tuple[type[models.Model], str], ...]:
    """Each table that points at players, and by which field."""
    fields = Player._meta.get_fields(include_hidden=True)
    return tuple(
        (each.related_model, each.field.name)
        for each in fields
        if isinstance(each, models.ManyToOneRel) and isinstance(each.related_model, type)
    )


def held_about(player: Player) -> Facts:
    """What is held, by table: plain values that JSON can say."""
    found: Facts = {"player": [_row(player, player)]}
    for name, rows in _tables(player):
        known = rows.select_related(*_ahead(rows.model)).defer(*_documents(rows.model))
        found.setdefault(name, []).extend(_row(row, player) for row in known)
    for name, mentions in _mentions(player).items():
        found[name] = [_row(row, player) for row in mentions]
    return {name: rows for name, rows in found.items() if rows}


def counted_about(player: Player) -> Counter[str]:
    """How many rows ``held_about`` has by table, counted where they lie: a season has thousands."""
    found = Counter({"player": 1})
    for name, rows in _tables(player):
        found[name] += rows.count()
    for name, mentions in _mentions(player).items():
        found[name] = sum(1 for _ in mentions)
    return +found


def _tables(player: Player) -> Iterator[tuple[str, models.QuerySet[models.Model]]]:
    """The rows that point at a player, with the name of their table."""
    for model, field in tables_about_players():
        yield str(model._meta.verbose_name_raw), model._default_manager.filter(**{field: player})


def _mentions(player: Player) -> dict[str, Iterator[models.Model]]:
    """The rows that only have the player in what they hold, by the name of their table."""
    return {
        "cast step": _cast_steps(player),
        "held rep": _held_reps(player),
        "change": _changes(player),
    }


def write_json(facts: Facts) -> bytes:
    """As JSON that people can read, too."""
    return json.dumps(facts, cls=DjangoJSONEncoder, indent=2, ensure_ascii=False).encode()


def write_csv(facts: Facts) -> bytes:
    """One value a line, in no cell that computes: UTF-8 with its mark, CR LF (RFC 4180)."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(("table", "row", "field", "value"))
    for table, rows in facts.items():
        for number, row in enumerate(rows, start=1):
            for field, value in row.items():
                said = json.loads(json.dumps(value, cls=DjangoJSONEncoder))
                text = said if isinstance(said, str) else json.dumps(said, ensure_ascii=False)
                cells = (table, str(number), field, "" if value is None else text)
                writer.writerow(safe_cell(cell) for cell in cells)
    return out.getvalue().encode("utf-8-sig")


def _ahead(model: type[models.Model]) -> list[str]:
    """The rows that a row's own words need: read with it, not one by one."""
    ahead = [f.name for f in model._meta.concrete_fields if isinstance(f, models.ForeignKey)]
    further = {RepRole: "rep__entry", CalledRole: "called__entry"}
    return [*ahead, further[model]] if model in further else ahead


def _documents(model: type[models.Model]) -> list[str]:
    """The plays behind a row: what is said of a revision is its number, never its document."""
    fields = [f for f in model._meta.concrete_fields if isinstance(f, models.ForeignKey)]
    return [f"{f.name}__document" for f in fields if f.related_model is Revision]


def _row(row: models.Model, player: Player) -> dict[str, Any]:
    fields = [f for f in row._meta.concrete_fields if f.name not in SECRET]
    made = {field.name: _value(row, field, player) for field in fields}
    if isinstance(row, RepRole):
        rep: Rep = row.rep
        made |= {"at": rep.at, "mode": rep.mode, "clean": rep.is_clean, "slip": rep.slip}
        made["call"] = rep.call
    if isinstance(row, CalledRole):
        called: CalledPlay = row.called
        names = ("at", "defence", "taken", "look", "result", "points", "call")
        made |= {name: getattr(called, name) for name in names}
    return made


def _value(row: models.Model, field: models.Field[Any, Any], player: Player) -> Any:
    if not isinstance(field, models.ForeignKey):
        return getattr(row, field.attname)
    told = getattr(row, field.name)
    if isinstance(told, Player) and told.pk != player.pk:
        return SOMEBODY_ELSE
    return None if told is None else str(told)


def _cast_steps(player: Player) -> Iterator[CastStep]:
    """Changes of the cast, with only what concerns this player."""
    for step in CastStep.objects.filter(team=player.team_id).select_related("team", "user"):
        mine = [c for c in step.changes if player.pk in {c.get("before"), c.get("after")}]
        if mine:
            step.changes = mine
            yield step


def _held_reps(player: Player) -> Iterator[HeldRep]:
    """Reps that wait for a decision, with only this player's place in them."""
    rows = HeldRep.objects.filter(team=player.team_id)
    for row in rows.select_related("team", "logged_by", "decided_by"):
        mine = {
            role: who
            for role, who in dict(row.tap.get("cast") or {}).items()
            if str(who) == str(player.pk)
        }
        if mine:
            row.tap = {**row.tap, "cast": mine}
            yield row


def _changes(player: Player) -> Iterator[Change]:
    """Lines of the record that are about this player by name."""
    swap = swap_of(player, player.call_name, "")
    for row in Change.objects.filter(team=player.team_id).select_related("user"):
        if swap(row.subject) != row.subject:
            yield row
