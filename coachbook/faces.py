"""Make the small faces of the players' own pages out of the two TrueType files.

A phone at the court loads them first, so they hold what those pages write and no more: letters
of English and Spanish, figures and signs; the regular one also the letters of European names.
No kerning, no other features, and a thousand units to the em. After a change of the letters,
or of ``static/fonts/inter-*.ttf``::

    python3 -m coachbook.faces
"""

from __future__ import annotations

import logging
from pathlib import Path
from typing import Final

from fontTools.subset import Options, Subsetter, save_font
from fontTools.ttLib import TTFont
from fontTools.ttLib.scaleUpem import scale_upem

from shared.core.drawing.fonts import FOLDER, font_file

UNITS: Final = 1000

SELDOM: Final = set("#$*<=>@\\^_`{|}~")
COMMON: Final = frozenset(
    {chr(code) for code in range(0x20, 0x7F)} - SELDOM | set("áéíóúüñÁÉÍÓÚÜÑ¿¡ºª“”‘’…–·×‹›")
)
NAMES: Final = frozenset(
    "ÀÁÂÃÄÅÆÇÈÉÊËÌÍÎÏÐÑÒÓÔÕÖØÙÚÛÜÝÞßàáâãäåæçèéêëìíîïðñòóôõöøùúûüýþÿĀāĂăĄąĆćĊċČčĎďĐđĒēĖėĘęĚěĞğĠġĢģ"
    "ĦħĪīĮįİıĶķĹĺĻļĽľŁłŃńŅņŇňŌōŐőŒœŔŕŘřŚśŞşŠšŢţŤťŪūŮůŰűŲųŸŹźŻżŽžȘșȚț"
)
"""The letters of names in the languages of Europe that write with Latin ones."""


def phone_file(*, bold: bool = False) -> Path:
    """The WOFF2 file of a weight, as ``static/css/player.css`` names it."""
    return FOLDER / f"inter-{'bold' if bold else 'regular'}-phone.woff2"


def letters(*, bold: bool = False) -> frozenset[str]:
    """What a weight can write. A rare letter in bold is the regular one, made bold by the phone."""
    return COMMON if bold else COMMON | NAMES


def write_face(*, bold: bool = False) -> None:
    """Cut a weight down to its letters, and write it."""
    options = Options(layout_features=[], hinting=False, glyph_names=False, name_IDs=[1, 2])
    options.flavor = "woff2"
    font = TTFont(font_file(bold=bold))
    cut = Subsetter(options)
    cut.populate(text="".join(sorted(letters(bold=bold))))
    cut.subset(font)
    scale_upem(font, UNITS)
    save_font(font, phone_file(bold=bold), options)


if __name__ == "__main__":
    logging.getLogger("fontTools").setLevel(logging.ERROR)
    for weight in (False, True):
        write_face(bold=weight)
