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

LARGEST: Final = 6_000_000  # bytes once unpacked: a small file can claim to hold gigabytes
PIECE: Final = 65_536  # bytes
MOST_COLUMNS: Final = 60
MOST_SHEETS: Final = 20  # opened: a file can name one sheet ten thousand times


class BadWorkbookError(ValueError):
    """A workbook that cannot be read; the message is a sentence for who brought it."""


def is_workbook(data: bytes) -> bool:
    """Whether the bytes are an archive, as every XLSX is."""
    return data.startswith(b"PK\x03\x04")


def text_of(data: bytes) -> str:
    """The first sheet that holds anything, as CSV. Raises BadWorkbookError."""
    try:
        if _unpacked(data) > LARGEST:
            rows = None
        else:
            rows = next(filter(None, map(_rows_of, _sheets(data))), [])
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
    """Bytes of all parts together, counted piece by piece until they are too many.

    What the archive says of its parts may be a lie, and one that is read whole is unpacked whole,
    whatever was said; a part that ends elsewhere than it says fails its checksum here.
    """
    size = 0
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        for each in archive.infolist():
            with archive.open(each) as part:
                while size <= LARGEST and (piece := part.read(PIECE)):
                    size += len(piece)
    return size


def _sheets(data: bytes) -> list[Any]:
    """The first sheets, by openpyxl's own steps: what a roster needs of a workbook, and no more."""
    # A fifth of a second, needed here only.
    from openpyxl.reader.excel import ExcelReader  # noqa: PLC0415
    from openpyxl.styles.stylesheet import apply_stylesheet  # noqa: PLC0415

    reader = ExcelReader(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
    reader.read_manifest()
    reader.read_strings()
    reader.read_workbook()
    apply_stylesheet(reader.archive, reader.wb)  # which numbers are days
    reader.parser.sheets = reader.parser.sheets[:MOST_SHEETS]
    reader.read_worksheets()
    return list(reader.wb.worksheets)


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
