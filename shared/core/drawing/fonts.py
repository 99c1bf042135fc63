"""The one typeface of the product, and how wide a line of text runs in it.

Inter, regular and bold, in ``static/fonts``: the web pages load it as WOFF2, the PDF and PNG
writers read the TrueType files. Widths are the advance widths of the font's own ``hmtx``
table, without kerning (OpenType specification, tables cmap, head, hhea and hmtx).
"""

from __future__ import annotations

import struct
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

FAMILY: Final = "Inter"
PAGE_FAMILY: Final = "Coachbook Sans"
"""What pages and pictures call their face, so that no other Inter of the machine is meant."""
FALLBACK: Final = f"'{PAGE_FAMILY}', {FAMILY}, Helvetica, Arial, sans-serif"
"""The face of the page or, in a file that stands alone, the one that it carries."""
FOLDER: Final = Path(__file__).resolve().parents[3] / "static" / "fonts"

CAP_HEIGHT: Final = 0.7275
"""Height of a capital or a figure, for a text size of 1."""

DESCENT: Final = 0.21
"""How far a "g" reaches under the baseline, for a text size of 1."""


@dataclass(frozen=True, slots=True)
class Face:
    """Advance widths by code point, for a text size of 1."""

    widths: Mapping[int, float]
    missing: float

    def covers(self, text: str) -> bool:
        """Whether the face has a glyph for every character."""
        return all(ord(letter) in self.widths for letter in text)


def font_file(*, bold: bool = False) -> Path:
    """The TrueType file of a weight."""
    return FOLDER / f"inter-{'bold' if bold else 'regular'}.ttf"


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """The width of a line of text, in the unit of ``size``."""
    face = read_face(bold=bold)
    return size * sum(face.widths.get(ord(letter), face.missing) for letter in text)


def shortened(text: str, size: float, width: float, *, bold: bool = False) -> str:
    """``text``, or as much of it as fits into ``width`` with an ellipsis behind."""
    if text_width(text, size, bold=bold) <= width:
        return text
    kept = text
    while kept and text_width(kept + "…", size, bold=bold) > width:
        kept = kept[:-1].rstrip()
    return kept + "…" if kept else ""


@cache
def read_face(*, bold: bool = False) -> Face:
    """The widths of a weight, read once from its file."""
    data = font_file(bold=bold).read_bytes()
    tables = _tables(data)
    (per_em,) = struct.unpack_from(">H", data, tables["head"] + 18)
    (count,) = struct.unpack_from(">H", data, tables["hhea"] + 34)
    advances = struct.unpack_from(">" + "Hh" * count, data, tables["hmtx"])[::2]
    glyphs = _glyphs(data, tables["cmap"])
    widths = {code: advances[min(glyph, count - 1)] / per_em for code, glyph in glyphs.items()}
    return Face(widths, advances[0] / per_em)


def _tables(data: bytes) -> dict[str, int]:
    (count,) = struct.unpack_from(">H", data, 4)
    entries = (struct.unpack_from(">4sIII", data, 12 + 16 * k) for k in range(count))
    return {tag.decode("ascii"): offset for tag, _, offset, _ in entries}


def _glyphs(data: bytes, at: int) -> dict[int, int]:
    """Glyph numbers by code point, from the Unicode subtable of format 4."""
    (count,) = struct.unpack_from(">H", data, at + 2)
    for k in range(count):
        offset = at + struct.unpack_from(">I", data, at + 8 + 8 * k)[0]
        if struct.unpack_from(">H", data, offset)[0] == 4:
            return _format_4(data, offset)
    raise ValueError("the font file has no character table of format 4")


def _format_4(data: bytes, at: int) -> dict[int, int]:
    (double,) = struct.unpack_from(">H", data, at + 6)
    half = double // 2
    ends = struct.unpack_from(f">{half}H", data, at + 14)
    starts = struct.unpack_from(f">{half}H", data, at + 16 + double)
    deltas = struct.unpack_from(f">{half}H", data, at + 16 + 2 * double)
    offsets_at = at + 16 + 3 * double
    found = {}
    for k, (start, end, delta) in enumerate(zip(starts, ends, deltas, strict=True)):
        (offset,) = struct.unpack_from(">H", data, offsets_at + 2 * k)
        for code in range(start, min(end, 0xFFFE) + 1):
            glyph = code
            if offset:
                place = offsets_at + 2 * k + offset + 2 * (code - start)
                (glyph,) = struct.unpack_from(">H", data, place)
            if glyph or not offset:
                found[code] = (glyph + delta) % 65536
    return {code: glyph for code, glyph in found.items() if glyph}
