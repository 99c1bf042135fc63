"""A roster in a workbook (XLSX, ECMA-376), as the text that a CSV file of it would hold."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable
from datetime import date, datetime
from typing import Any, Final

from django.utils.translation import gettext as _

from roster.core.file.cells import LONGEST_CELL
from roster.core.file.text import MOST_LINES

LARGEST: Final = 20_000_000  # bytes once unpacked: a small file can claim to hold gigabytes
MOST_COLUMNS: Final = 60


class BadWorkbookError(ValueError):
    """A workbook that cannot be read; the message is a sentence for who brought it."""


def is_workbook(data: bytes) -> bool:
    """Whether the bytes are an archive, as every XLSX is."""
    return data.startswith(b"PK\x03\x04")


def text_of(data: bytes) -> str:
    """The first sheet that holds anything, as CSV. Raises BadWorkbookError."""
    from openpyxl import load_workbook  # noqa: PLC0415 (a fifth of a second, needed here only)

    try:
        if _unpacked(data) > LARGEST:
            rows = None
        else:
            book = load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
            rows = next(filter(None, map(_rows_of, book.worksheets)), [])
    except Exception as error:  # a damaged workbook fails in many ways, each of its own kind
        raise BadWorkbookError(
            _("This workbook cannot be read. Save it again, or save the table as CSV.")
        ) from error
    if rows is None:
        raise BadWorkbookError(_("This workbook is far larger than a roster."))
    if not rows:
        raise BadWorkbookError(_("There is nothing in this workbook."))
    return _as_csv(rows)


def _unpacked(data: bytes) -> int:
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return sum(each.file_size for each in archive.infolist())


def _rows_of(sheet: Any) -> list[list[str]]:
    sheet.reset_dimensions()  # what a file says of its own size is not believed
    return _rows(sheet.iter_rows(max_col=MOST_COLUMNS, values_only=True))


def _rows(found: Iterable[tuple[Any, ...]]) -> list[list[str]]:
    """The rows with anything in them as texts, without empty columns behind; the most and one."""
    rows: list[list[str]] = []
    for number, row in enumerate(found):
        cells = [cell_text(value) for value in row]
        if any(cells):
            rows.append(cells)
        if len(rows) > MOST_LINES or number > 50 * MOST_LINES:
            break
    wide = max((i + 1 for row in rows for i, cell in enumerate(row) if cell), default=0)
    return [[*row, *[""] * wide][:wide] for row in rows]


def cell_text(value: Any) -> str:
    """A cell as somebody reads it: 7, not 7.0; a height that was taken for a date stays told."""
    match value:
        case None:
            return ""
        case bool():
            return str(value).lower()
        case float() if value.is_integer():
            return str(int(value))
        case datetime() | date():
            return f"{value:%Y-%m-%d}"
        case _:
            return " ".join(str(value)[: 2 * LONGEST_CELL].split())


def _as_csv(rows: list[list[str]]) -> str:
    out = io.StringIO(newline="")
    csv.writer(out).writerows(rows)
    return out.getvalue()
