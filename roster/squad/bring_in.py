"""Bringing a roster in: a preview that keeps what was typed, then all of it or nothing.

The preview needs no storage: its form carries every cell, so a fault is mended in place and
checked by the same reader that read the file. A line that means somebody of the roster changes
what stands in its cells; an empty cell changes nothing.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from roster.bridge import file_row, player_from
from roster.core.file.cells import COLUMNS, HEIGHT, NAME, NUMBER
from roster.core.file.known import Worn
from roster.core.file.roster import FileRow, PlayerRow, RosterFile, read_roster, roster_in
from roster.core.file.table import Matching, RosterTable
from roster.core.file.text import MOST_LINES
from roster.models import Player, Team
from roster.squad.records import follow_name
from shared import stood
from shared.core.language import Language
from shared.models import User
from shared.record import note_change

FIRST_CELL = re.compile(r"row-(\d{1,6})-name")


@dataclass(frozen=True, slots=True)
class PreviewCell:
    """One cell: what stands in it, what is wrong with that, and what it would change.

    ``becomes`` is given where the text is read as another one, such as feet as centimetres.
    """

    column: str
    text: str
    reasons: tuple[str, ...]
    before: str | None = None
    becomes: str = ""

    @property
    def is_told(self) -> bool:
        return bool(self.reasons or self.becomes or self.before is not None)


@dataclass(frozen=True, slots=True)
class PreviewRow:
    """One line of the file: its cells with what is wrong in each, and whether it is skipped."""

    line: int
    cells: tuple[PreviewCell, ...]
    reasons: tuple[str, ...]
    skipped: bool
    known: str = ""

    @property
    def changes(self) -> int:
        """How many values of somebody on the roster would be others."""
        return sum(cell.before is not None for cell in self.cells)

    @property
    def person(self) -> str:
        """Name and shirt number as they stand in the line."""
        said = {cell.column: cell.text for cell in self.cells}
        return f"{said.get(NAME, '')} {said.get(NUMBER, '')}".strip()

    @property
    def is_faulty(self) -> bool:
        return bool(self.reasons) or any(cell.reasons for cell in self.cells)


@dataclass(frozen=True, slots=True)
class RosterPreview:
    rows: tuple[PreviewRow, ...]
    reasons: tuple[str, ...]
    notes: tuple[str, ...]
    found: RosterFile
    mark: str  # of the roster that this was held against

    @property
    def open_faults(self) -> int:
        """Lines that are neither right nor skipped."""
        return sum(row.is_faulty and not row.skipped for row in self.rows)

    @property
    def columns(self) -> tuple[str, ...]:
        """The columns that hold anything or need a look; name and number always."""
        cells = (cell for row in self.rows for cell in row.cells)
        used = {cell.column for cell in cells if cell.text or cell.reasons}
        return tuple(c for c in COLUMNS if c in used or c in {"name", "number"})

    @property
    def is_settled(self) -> bool:
        return not self.reasons and not self.open_faults and bool(self.found.players)

    @property
    def known(self) -> int:
        """Lines of somebody who is on the roster already."""
        return sum(bool(row.known) and not row.skipped for row in self.rows)

    @property
    def fresh(self) -> int:
        """Players who would be new."""
        return sum(row.player is not None and row.known is None for row in self.found.rows)

    @property
    def changes(self) -> int:
        """Values of players on the roster that would be others."""
        return sum(row.changes for row in self.rows if not row.skipped)

    @property
    def does_something(self) -> bool:
        return bool(self.fresh or self.changes)


def preview_of_table(
    table: RosterTable, team: Team, language: Language, matching: Matching | None = None
) -> RosterPreview:
    """What a file or a pasted text holds, line by line."""
    here = _present(team)
    found = roster_in(table, here, language, matching)
    return RosterPreview(
        rows=tuple(_row(found, row.line, row.found, row.line, here) for row in found.rows),
        reasons=tuple(p.sentence for p in found.problems if p.line is None or not found.rows),
        notes=found.notes,
        found=found,
        mark=_mark(here),
    )


def preview_of_form(data: Mapping[str, str], team: Team, language: Language) -> RosterPreview:
    """The same, from the cells of the preview's form with what was mended and skipped."""
    here = _present(team)
    lines = sorted(int(cell[1]) for key in data if (cell := FIRST_CELL.fullmatch(key)))
    typed = {
        line: {column: data.get(f"row-{line}-{column}", "") for column in COLUMNS}
        for line in lines[:MOST_LINES]
    }
    kept = [line for line in typed if f"skip-{line}" not in data]
    found = read_roster(_as_file([typed[line] for line in kept]), here, language)
    line_of = {row.line: kept[index] for index, row in enumerate(found.rows)}
    read_line = {line: read for read, line in line_of.items()}
    rows = tuple(_row(found, line, typed[line], read_line.get(line), here) for line in typed)
    return RosterPreview(rows=rows, reasons=(), notes=(), found=found, mark=_mark(here))


@transaction.atomic
def bring_in(preview: RosterPreview, team: Team, user: User) -> None:
    """Add every new player of a settled preview and change every known one, all or nothing."""
    here = _present(team, lock=True)
    read = [row for row in preview.found.rows if row.player is not None]
    added = [_added(row.player, team) for row in read if row.player and row.known is None]
    known = [(here[row.known], row) for row in read if row.known is not None]
    changed = [(player, said) for player, row in known if (said := changes_of(player, row))]
    _free_numbers([player for player, said in changed if NUMBER in said])
    words = [_change(player, said) for player, said in changed]
    for player in added:
        player.full_clean()
        player.save()
    if added:
        note_change(user, "brought in players", team, team=team.pk, after=[str(p) for p in added])
    if words:
        note_change(user, "changed players by a file", team, team=team.pk, after=words)


def _added(row: PlayerRow, team: Team) -> Player:
    player = player_from(row)
    player.team = team
    return player


def changes_of(player: Player, row: FileRow) -> dict[str, tuple[Any, Any]]:
    """What a line would change, by column: the value now and the one it says."""
    if row.player is None:
        return {}
    told = player_from(row.player)
    return {
        column: (getattr(player, column), getattr(told, column))
        for column in COLUMNS
        if row.found.get(column) and getattr(player, column) != getattr(told, column)
    }


def _free_numbers(players: Iterable[Player]) -> None:
    """Take the shirts off those who change them, so that two can change with each other."""
    for index, player in enumerate(players):
        spare = chr(ord("a") + index // 26) + chr(ord("a") + index % 26)
        Player.objects.filter(pk=player.pk).update(number=spare)


def _change(player: Player, changes: Mapping[str, tuple[Any, Any]]) -> str:
    """Change one player; says whom, and which columns."""
    before = player.call_name
    for column, (_now, then) in changes.items():
        setattr(player, column, then)
    player.full_clean(validate_constraints=False)  # the reader has told doubles; the base refuses
    player.save(update_fields=list(changes))
    follow_name(player, before)
    return f"{player}: {', '.join(changes)}"


def _present(team: Team, *, lock: bool = False) -> dict[Worn, Player]:
    players = team.players.present()
    if lock:
        players = players.select_for_update()
    return {(player.name, player.number): player for player in players}


def _mark(here: Mapping[Worn, Player]) -> str:
    return stood.mark_of(
        {
            str(player.pk): [getattr(player, column) for column in COLUMNS]
            for player in here.values()
        }
    )


def _row(
    found: RosterFile,
    line: int,
    texts: Mapping[str, str],
    read_line: int | None,
    here: Mapping[Worn, Player],
) -> PreviewRow:
    problems = found.problems_of(read_line) if read_line is not None else ()
    read = next((row for row in found.rows if row.line == read_line), None)
    known = here.get(read.known) if read and read.known else None
    changes = changes_of(known, read) if known and read else {}
    told = file_row(player_from(read.player)) if read and read.player else None

    def cell(column: str) -> PreviewCell:
        text = texts.get(column, "")
        why = tuple(problem.sentence for problem in problems if problem.column == column)
        before = _shown(changes[column][0]) if column in changes else None
        becomes = f"{told.height_cm}" if told and column == HEIGHT and text else ""
        return PreviewCell(column, text, why, before, "" if becomes == text else becomes)

    whole = tuple(problem.sentence for problem in problems if problem.column not in COLUMNS)
    return PreviewRow(
        line,
        tuple(cell(column) for column in COLUMNS),
        whole,
        skipped=read_line is None,
        known=str(known) if known else "",
    )


def _shown(value: Any) -> str:
    return "–" if value in (None, "") else str(value)


def _as_file(rows: list[dict[str, str]]) -> bytes:
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    writer.writerows([" ".join(row[column].split()) for column in COLUMNS] for row in rows)
    return out.getvalue().encode("utf-8-sig")
