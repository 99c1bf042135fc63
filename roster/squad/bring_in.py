"""Bringing a roster in: a preview that keeps what was typed, then all of it or nothing.

The preview needs no storage: its form carries every cell, so a fault is mended in place and
checked by the same reader that read the file.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass

from django.db import transaction

from roster.bridge import player_from
from roster.core.file.cells import COLUMNS
from roster.core.file.roster import RosterFile, read_roster
from roster.core.file.text import MOST_LINES
from roster.models import Team
from shared.core.language import Language
from shared.models import User
from shared.record import note_change

FIRST_CELL = re.compile(r"row-(\d{1,6})-name")


@dataclass(frozen=True, slots=True)
class PreviewCell:
    column: str
    text: str
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PreviewRow:
    """One line of the file: its cells with what is wrong in each, and whether it is skipped."""

    line: int
    cells: tuple[PreviewCell, ...]
    reasons: tuple[str, ...]
    skipped: bool

    @property
    def is_faulty(self) -> bool:
        return bool(self.reasons) or any(cell.reasons for cell in self.cells)


@dataclass(frozen=True, slots=True)
class RosterPreview:
    rows: tuple[PreviewRow, ...]
    reasons: tuple[str, ...]
    notes: tuple[str, ...]
    found: RosterFile

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


def preview_of_file(data: bytes, team: Team, language: Language) -> RosterPreview:
    """What a file holds, line by line."""
    found = read_roster(data, _present(team), language)
    return RosterPreview(
        rows=tuple(_row(found, row.line, row.found, row.line) for row in found.rows),
        reasons=tuple(p.sentence for p in found.problems if p.line is None or not found.rows),
        notes=found.notes,
        found=found,
    )


def preview_of_form(data: Mapping[str, str], team: Team, language: Language) -> RosterPreview:
    """The same, from the cells of the preview's form with what was mended and skipped."""
    lines = sorted(int(cell[1]) for key in data if (cell := FIRST_CELL.fullmatch(key)))
    typed = {
        line: {column: data.get(f"row-{line}-{column}", "") for column in COLUMNS}
        for line in lines[:MOST_LINES]
    }
    kept = [line for line in typed if f"skip-{line}" not in data]
    found = read_roster(_as_file([typed[line] for line in kept]), _present(team), language)
    line_of = {row.line: kept[index] for index, row in enumerate(found.rows)}
    read_line = {line: read for read, line in line_of.items()}
    rows = tuple(_row(found, line, typed[line], read_line.get(line)) for line in typed)
    return RosterPreview(rows=rows, reasons=(), notes=(), found=found)


@transaction.atomic
def bring_in(preview: RosterPreview, team: Team, user: User) -> int:
    """Add every player of a settled preview, all or none. The number added."""
    players = [player_from(row) for row in preview.found.players]
    for player in players:
        player.team = team
        player.full_clean()
        player.save()
    note_change(user, "brought in players", team, team=team.pk, after=[str(p) for p in players])
    return len(players)


def _present(team: Team) -> list[tuple[str, str]]:
    return list(team.players.present().values_list("name", "number"))


def _row(
    found: RosterFile, line: int, texts: Mapping[str, str], read_line: int | None
) -> PreviewRow:
    problems = found.problems_of(read_line) if read_line is not None else ()
    cells = tuple(
        PreviewCell(
            column,
            texts.get(column, ""),
            tuple(problem.sentence for problem in problems if problem.column == column),
        )
        for column in COLUMNS
    )
    whole = tuple(problem.sentence for problem in problems if problem.column not in COLUMNS)
    return PreviewRow(line, cells, whole, skipped=read_line is None)


def _as_file(rows: list[dict[str, str]]) -> bytes:
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(COLUMNS)
    writer.writerows([" ".join(row[column].split()) for column in COLUMNS] for row in rows)
    return out.getvalue().encode("utf-8-sig")
