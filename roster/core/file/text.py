"""From the bytes of a table file to its lines of cells, saying what was taken for granted.

Quoting follows RFC 4180; separator and encoding are found out, never asked for, and told.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from shared.core.language import N_

SEPARATORS: Final = (",", ";", "\t")
MOST_LINES: Final = 200
MOST_LETTERS: Final = 100_000  # in one cell; below the limit at which the csv module stops

UTF8: Final = N_("Read as Unicode text (UTF-8).")
UTF16: Final = N_("Read as Unicode text (UTF-16).")
CP1252: Final = N_(
    "Read as an older kind of text (Windows-1252): look at the letters with accents."
)
LATIN1: Final = N_("Read as an older kind of text (Latin-1): look at the letters with accents.")

LISTED: Final = N_("Read as a list: a name and a number in each line.")
SEPARATED_BY: Final = {
    ",": N_("Cells are separated by commas."),
    ";": N_("Cells are separated by semicolons."),
    "\t": N_("Cells are separated by tabs."),
}
NO_TEXT: Final = N_("This is neither a text file nor a workbook. Save the table as CSV or XLSX.")
EMPTY: Final = N_("There is nothing in it.")
OPEN_QUOTE: Final = N_("A quotation mark opens a cell and is not closed, or text follows it.")
LONG_CELL: Final = N_("A cell has more than {letters} letters: this is no roster.")
TOO_LONG: Final = N_("The file has more than {most} lines; a roster has fewer.")


# A list without separators, by the number in front or behind; what is name and what is number.
_LISTS: Final = (
    (re.compile(r"#?([0-9]{1,2})[.):]? ([^0-9,;\t]+)"), (2, 1)),
    (re.compile(r"([^0-9,;\t#]+) #?([0-9]{1,2})"), (1, 2)),
)


class BadTableError(ValueError):
    """A file that cannot be read as a table: ``template`` says why, ``line`` where, if known."""

    def __init__(self, template: str, line: int | None = None) -> None:
        super().__init__(template)
        self.template = template
        self.line = line


@dataclass(frozen=True, slots=True)
class FileLine:
    """One record: the number of the line in the file on which it begins, and its cells."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FileText:
    """The text of a file, its encoding by name, and the sentence that tells it."""

    text: str
    encoding: str
    said: str


def decoded(data: bytes) -> FileText:
    """The text of a file. Raises BadTableError for bytes that are no text."""
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return FileText(_read(data, "utf-16"), "utf-16", UTF16)
    if b"\0" in data:
        raise BadTableError(NO_TEXT)
    found = _as_bytes_tell(data)
    if _is_binary(found.text):
        raise BadTableError(NO_TEXT)
    return found


def separator_of(text: str, known: Callable[[str], bool]) -> str:
    """The separator by which most names of the first line are known; a comma at a tie."""
    first = next((line for line in text.splitlines() if line.strip()), "")[:MOST_LETTERS]

    def names(separator: str) -> tuple[int, int]:
        cells = next(csv.reader([first], delimiter=separator), [])
        return sum(known(cell) for cell in cells), len(cells)

    return max(SEPARATORS, key=names)


def listed(text: str) -> str | None:
    """A plain list, "4 Ida" or "Ida 4" a line, as a table with tabs; None for another text."""
    found = [line.strip() for line in text.splitlines()[: MOST_LINES + 1] if line.strip()]
    for pattern, put in _LISTS:
        matches = [pattern.fullmatch(" ".join(line[:MOST_LETTERS].split())) for line in found]
        if found and all(matches):
            return "".join(f"{match[put[0]]}\t{match[put[1]]}\n" for match in matches if match)
    return None


def lines(text: str, separator: str) -> tuple[FileLine, ...]:
    """The records that are not blank. Raises BadTableError."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    found: list[FileLine] = []
    begins = 1
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                found.append(FileLine(begins, tuple(cell.strip() for cell in cells)))
            if len(found) > MOST_LINES:
                raise BadTableError(TOO_LONG)
            begins = reader.line_num + 1
    except csv.Error as error:
        limited = str(csv.field_size_limit()) in str(error)
        raise BadTableError(LONG_CELL if limited else OPEN_QUOTE, begins) from error
    if not found:
        raise BadTableError(EMPTY)
    return tuple(found)


def _as_bytes_tell(data: bytes) -> FileText:
    """By the first encoding in which every byte is a letter; in Latin-1 each is."""
    for encoding, said in (("utf-8-sig", UTF8), ("cp1252", CP1252)):
        try:
            return FileText(data.decode(encoding), encoding.removesuffix("-sig"), said)
        except UnicodeDecodeError:
            continue
    return FileText(data.decode("latin-1"), "latin-1", LATIN1)


def _read(data: bytes, encoding: str) -> str:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError as error:
        raise BadTableError(NO_TEXT) from error


def _is_binary(text: str) -> bool:
    return any(ord(letter) < 32 and letter not in "\t\r\n\v\f" for letter in text)
