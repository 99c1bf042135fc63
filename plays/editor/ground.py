"""The court in words, cell by cell: what is said of a place that has no name of its own.

The browser says where the ring is while the arrow keys move it, also without a signal. So it is
sent the words that the server itself has for each place, and makes none.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import groupby
from typing import Any, Final

from plays.core.court.courts import court
from plays.core.court.spoken import describe
from plays.core.play import Point, RuleSet
from shared.core.language import Language

CELL: Final = 0.25  # metres: one press of an arrow key
MARGIN: Final = 2  # cells beside the lines, where whoever throws in stands


@lru_cache(maxsize=12)
def ground(rules: RuleSet, language: Language) -> dict[str, Any]:
    """The phrases of a half court, and by rows of cells up the court which of them it is.

    A row is a list of numbers of phrases, each followed by how many cells it goes on for. ``left``
    and ``top`` are the middle of the first cell, ``cell`` its size, all in metres.
    """
    floor = court(rules)
    beside, along = int(floor.half_width / CELL) + MARGIN, int(floor.half_y / CELL)
    words: dict[str, int] = {}
    rows = []
    for up in range(-MARGIN, along + 1):
        said = (
            str(describe(floor, Point(across * CELL, up * CELL), language))
            for across in range(-beside, beside + 1)
        )
        row: list[int] = []
        for phrase, cells in groupby(said):
            row += [words.setdefault(phrase, len(words)), sum(1 for _ in cells)]
        rows.append(row)
    start = {"left": -beside * CELL, "top": -MARGIN * CELL, "cell": CELL}
    return {**start, "words": list(words), "rows": rows}
