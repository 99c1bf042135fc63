"""A roster as a CSV file: read with every fault told, written so that it reads back the same.

Nothing is guessed silently: encoding, separator and columns left aside are told in ``notes``.
A row with a fault gives no ``PlayerRow``; whoever imports decides whether to mend or skip it.
"""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final

from plays.core.play import Quality
from roster.core.file import cells
from roster.core.file.known import Worn, known_players
from roster.core.file.table import (
    LONGEST_SHOWN,
    MOST_SHOWN,
    Matching,
    RosterTable,
    bad_table,
    table_of,
)
from roster.core.file.text import BadTableError, FileLine
from roster.core.people import RATED, Availability
from shared.core.finding import Finding, Severity
from shared.core.language import ENGLISH, N_, Language

NO_NAME_COLUMN: Final = N_(
    "No column is called “name”. The first line must name the columns: {columns}."
)
COLUMN_TWICE: Final = N_("The column “{column}” is there twice.")
COLUMNS_UNUSED: Final = N_("Not used, since this app knows no such column: {columns}.")
WRONG_LENGTH: Final = N_(
    "This line has {found} cells, the first line has {expected}. "
    "A cell with a separator in it must stand in quotation marks."
)
NUMBER_TWICE: Final = N_("Number {number} is used twice: {other} has it in line {first}.")
NUMBER_TAKEN: Final = N_("Number {number} is used already: {other} on the roster has it.")
SAME_NAME: Final = N_("More than one player is called {name}: their numbers tell them apart.")

# Cells that a spreadsheet would run as a formula (OWASP, "CSV Injection"), the full-width
# signs included, and cells that were made safe by the apostrophe before them.
_FORMULA: Final = re.compile(r"^'*[=+\-@\t\r＝＋－＠]")


@dataclass(frozen=True, slots=True)
class PlayerRow:
    """One player as a roster file tells them. ``ratings`` holds only what is rated."""

    name: str
    number: str
    height_cm: int | None = None
    positions: tuple[str, ...] = ()
    ratings: Mapping[Quality, int] = field(default_factory=dict)
    availability: Availability = Availability.AVAILABLE


@dataclass(frozen=True, slots=True, kw_only=True)
class RowFinding(Finding):
    """One fault of a file: in which line (None: the file), and which column."""

    severity: Severity = Severity.SERIOUS
    place: str = ""
    line: int | None
    column: str | None


@dataclass(frozen=True, slots=True)
class FileRow:
    """One line of the file as found, by column, and the player in it where nothing is wrong.

    ``known`` is who of the roster is meant, by name and number there; None for somebody new.
    """

    line: int
    found: Mapping[str, str]
    player: PlayerRow | None
    known: Worn | None = None


@dataclass(frozen=True, slots=True)
class RosterFile:
    """What a file held. ``notes`` are sentences about what was taken for granted."""

    rows: tuple[FileRow, ...]
    problems: tuple[RowFinding, ...]
    notes: tuple[str, ...] = ()
    encoding: str | None = None
    separator: str | None = None

    @property
    def players(self) -> tuple[PlayerRow, ...]:
        """The players of all lines without a fault."""
        return tuple(row.player for row in self.rows if row.player is not None)

    def problems_of(self, line: int) -> tuple[RowFinding, ...]:
        return tuple(problem for problem in self.problems if problem.line == line)


def read_roster(
    data: bytes | str,
    present: Iterable[Worn] = (),
    language: Language = ENGLISH,
    matching: Matching | None = None,
) -> RosterFile:
    """A roster file, held against the (name, number) of the players already on the roster."""
    try:
        table = table_of(data, language)
    except BadTableError as error:
        return _no_table(error, language)
    return roster_in(table, present, language, matching)


def roster_in(
    table: RosterTable,
    present: Iterable[Worn],
    language: Language,
    matching: Matching | None = None,
) -> RosterFile:
    """The roster in a table that was read already, likewise."""
    matching = matching or Matching(table.guess().columns)
    notes = [*table.notes, *_unused(table, matching, language)]
    first = table.lines[0].number
    problems = _heading_problems(first, matching.columns, language)
    rows: tuple[FileRow, ...] = ()
    here = tuple(present)
    if not problems:
        reader = _RosterReader(matching.columns, language, problems)
        read = [reader.row(line) for line in table.lines[matching.headed :]]
        known = known_players([row.found for row in read], here)
        read = [replace(row, known=who) for row, who in zip(read, known, strict=True)]
        others = [worn for worn in here if worn not in known]
        rows = _without_doubles(read, others, reader)
        notes += _same_names(rows, others, language)
    problems.sort(key=lambda problem: problem.line or 0)
    return RosterFile(rows, tuple(problems), tuple(notes), table.encoding, table.separator)


def _no_table(error: BadTableError, language: Language) -> RosterFile:
    said = bad_table(error, language)
    return RosterFile((), (RowFinding("bad_file", sentence=said, line=error.line, column=None),))


def _unused(table: RosterTable, matching: Matching, language: Language) -> list[str]:
    """A note that names the headings of the columns left aside."""
    if not matching.headed:
        return []
    pairs = zip(table.headings, matching.columns, strict=False)
    unused = [heading for heading, column in pairs if column is None and heading]
    shown = [heading[:LONGEST_SHOWN] for heading in unused[:MOST_SHOWN]]
    return [language.say(COLUMNS_UNUSED, columns=language.all_of(shown))] if shown else []


def write_roster(players: Iterable[PlayerRow]) -> bytes:
    """The file: UTF-8 with its mark (so that spreadsheets see it), commas, CR LF (RFC 4180)."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(cells.COLUMNS)
    for player in players:
        writer.writerow(safe_cell(cell) for cell in _cells_of(player))
    return out.getvalue().encode("utf-8-sig")


def _cells_of(player: PlayerRow) -> list[str]:
    ratings = (player.ratings.get(quality) for quality in RATED)
    return [
        player.name,
        player.number,
        str(player.height_cm or ""),
        "/".join(cells.POSITION_LETTERS[position] for position in player.positions),
        *(str(rating or "") for rating in ratings),
        str(player.availability),
    ]


def safe_cell(cell: str) -> str:
    """A cell that no spreadsheet takes for a formula: such a one gets an apostrophe in front."""
    return "'" + cell if _FORMULA.match(cell) else cell


def _unsafe(cell: str) -> str:
    return cell[1:] if cell.startswith("'") and _FORMULA.match(cell) else cell


def _heading_problems(
    line: int, columns: Sequence[str | None], language: Language
) -> list[RowFinding]:
    named = [column for column in columns if column]
    problems = [
        RowFinding(
            "column_twice",
            sentence=language.say(COLUMN_TWICE, column=column),
            line=line,
            column=column,
        )
        for column in dict.fromkeys(named)
        if named.count(column) > 1
    ]
    if cells.NAME not in named:
        said = language.say(NO_NAME_COLUMN, columns=", ".join(cells.COLUMNS))
        problems.append(RowFinding("no_name_column", sentence=said, line=line, column=cells.NAME))
    return problems


@dataclass(frozen=True, slots=True)
class _RosterReader:
    """Reads lines into rows and puts what is wrong on the list."""

    columns: Sequence[str | None]
    language: Language
    problems: list[RowFinding]

    def row(self, line: FileLine) -> FileRow:
        found = {
            column: _unsafe(cell)
            for column, cell in zip(self.columns, line.cells, strict=False)
            if column
        }
        if len(line.cells) != len(self.columns):
            sizes = {"found": len(line.cells), "expected": len(self.columns)}
            self.add(line.number, None, "wrong_length", WRONG_LENGTH, **sizes)
            return FileRow(line.number, found, None)
        return FileRow(line.number, found, self._player(line.number, found))

    def add(self, line: int, column: str | None, code: str, why: str, **slots: str | int) -> None:
        said = self.language.say(why, **slots)
        self._found(line, column, code, said)

    def _found(self, line: int, column: str | None, code: str, said: str) -> None:
        self.problems.append(RowFinding(code, sentence=said, line=line, column=column))

    def _player(self, line: int, found: Mapping[str, str]) -> PlayerRow | None:
        before = len(self.problems)

        def cell(column: str, read: Callable[[str, Language], Any]) -> Any:
            try:
                text = cells.of_bearable_length(found.get(column, ""), self.language)
                return read(text, self.language)
            except cells.BadCellError as bad:
                self._found(line, column, bad.code, str(bad))
                return None

        name = cell(cells.NAME, cells.name_in)
        number = cell(cells.NUMBER, cells.number_in)
        height = cell(cells.HEIGHT, cells.height_in)
        positions = cell(cells.POSITIONS, cells.positions_in)
        rated = {quality: cell(quality, cells.rating_in) for quality in RATED}
        availability = cell(cells.AVAILABILITY, cells.availability_in)
        if len(self.problems) > before:
            return None
        ratings = {quality: rating for quality, rating in rated.items() if rating is not None}
        return PlayerRow(name, number, height, positions, ratings, availability)


def _same_names(rows: Sequence[FileRow], present: Sequence[Worn], language: Language) -> list[str]:
    """A word about each name in the file that more than one player bears: easily a fault."""
    brought = [name for row in rows if (name := row.found.get(cells.NAME, ""))]
    count = Counter(cells.plain(name) for name in [*brought, *(name for name, _ in present)])
    shown = {cells.plain(name): name for name in brought if count[cells.plain(name)] > 1}
    return [language.say(SAME_NAME, name=name) for name in shown.values()]


def _without_doubles(
    rows: Sequence[FileRow], present: Iterable[Worn], reader: _RosterReader
) -> tuple[FileRow, ...]:
    """The rows, without a player where the number is somebody else's already."""
    numbers = {number: name for name, number in present}
    first_number: dict[str, FileRow] = {}
    kept = []
    for row in rows:
        number = row.found.get(cells.NUMBER, "")
        before = len(reader.problems)
        _check_number(row.line, number, numbers, first_number, reader)
        if number:
            first_number.setdefault(number, row)
        faulty = len(reader.problems) > before
        kept.append(replace(row, player=None) if faulty else row)
    return tuple(kept)


def _check_number(
    line: int,
    number: str,
    present: Mapping[str, str],
    earlier: Mapping[str, FileRow],
    reader: _RosterReader,
) -> None:
    if number in present:
        who = {"number": number, "other": present[number]}
        reader.add(line, cells.NUMBER, "number_taken", NUMBER_TAKEN, **who)
    elif number in earlier:
        twin = earlier[number]
        other = twin.found.get(cells.NAME, "")
        slots: dict[str, str | int] = {"number": number, "other": other, "first": twin.line}
        reader.add(line, cells.NUMBER, "number_twice", NUMBER_TWICE, **slots)
