"""Make the small faces of the players' own pages and pictures out of the two TrueType files.

A phone at the court loads them first, so they hold what those pages write and no more: letters
of English and Spanish, figures and signs; the regular one also the letters of European names.
The smallest hold the numbers on the library's small pictures, which carry them. No kerning,
no other features, and a thousand units to the em. After a change of the letters, or of
``static/fonts/inter-*.ttf``::

    python3 -m coachbook.faces
"""

from __future__ import annotations

import logging
from pathlib import Path
from typing import Final, Literal

from fontTools.subset import Options, Subsetter, save_font
from fontTools.ttLib import TTFont
from fontTools.ttLib.scaleUpem import scale_upem

from shared.core.drawing.fonts import FOLDER, font_file
from shared.core.drawing.letters import COMMON, MARKS, NAMES

Part = Literal["phone", "marks"]

UNITS: Final = 1000


def small_file(part: Part = "phone", *, bold: bool = False) -> Path:
    """The WOFF2 file of a weight, as ``static/css/player.css`` or a picture names it."""
    return FOLDER / f"inter-{'bold' if bold else 'regular'}-{part}.woff2"


def letters(part: Part = "phone", *, bold: bool = False) -> frozenset[str]:
    """What a weight can write. A rare letter in bold is the regular one, made bold by the phone."""
    if part == "marks":
        return MARKS
    return COMMON if bold else COMMON | NAMES


def write_face(part: Part = "phone", *, bold: bool = False) -> None:
    """Cut a weight down to its letters, and write it."""
    options = Options(layout_features=[], hinting=False, glyph_names=False, name_IDs=[1, 2])
    options.flavor = "woff2"
    font = TTFont(font_file(bold=bold))
    cut = Subsetter(options)
    cut.populate(text="".join(sorted(letters(part, bold=bold))))
    cut.subset(font)
    scale_upem(font, UNITS)
    save_font(font, small_file(part, bold=bold), options)


if __name__ == "__main__":
    logging.getLogger("fontTools").setLevel(logging.ERROR)
    for heavy in (False, True):
        write_face("phone", bold=heavy)
        write_face("marks", bold=heavy)
