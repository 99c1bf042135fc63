"""How long the booklets of a whole squad take: 15 players in 14 plays, as one PDF of each paper.

CPU time of this process, the best of some repeats, cold: no diagram is kept from the one before.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime
from io import BytesIO
from itertools import islice
from time import process_time
from typing import Final, TextIO

from pypdf import PdfReader

from coachbook.demo.files import demo_plays
from plays.core.calls import CallName
from plays.core.play import ROLES
from roster.core.cast import Cast, PlayerId, cast_of, slots
from roster.core.paper import part_block
from roster.core.paper.leaf import PAPERS
from roster.core.paper.sheet import CarriedPlay, Sheet, sheet_of
from roster.core.paper.sheet_pdf import write_sheets
from shared.core.language import ENGLISH

PLAYERS: Final = 15
PLAYS: Final = 14
MOST: Final = 5.0  # seconds, our own aim
REPEATS: Final = 3
DAY: Final = date(2026, 11, 25)
PUBLISHED: Final = datetime(2026, 10, 3, 18, tzinfo=UTC)
PEOPLE: Final[Mapping[PlayerId, CallName]] = {
    n: CallName(f"Player{n}", str(n)) for n in range(1, PLAYERS + 1)
}


def run(out: TextIO) -> None:
    """Writes seconds of CPU and pages for each paper, with the aim beside them."""
    for paper in PAPERS:
        found = [measured(paper) for _ in range(REPEATS)]
        seconds = min(seconds for seconds, _ in found)
        pages = found[0][1]
        out.write(
            f"{PLAYERS} booklets of {PLAYS} plays, {paper:7}{seconds:6.2f} s of CPU"
            f" (aim: under {MOST:.0f}), {pages} pages\n"
        )


def measured(paper: str) -> tuple[float, int]:
    """Seconds of CPU and pages of all booklets, from the cast to the file."""
    part_block.forget()
    begin = process_time()
    made = BytesIO()
    write_sheets(_sheets(), made, paper=paper, club="Lindwater", language=ENGLISH)
    return process_time() - begin, len(PdfReader(made).pages)


def _sheets() -> list[Sheet]:
    carried = [
        CarriedPlay(n, play, PUBLISHED, f"Call{n}", f"sign{n}")
        for n, play in enumerate(islice(demo_plays(), PLAYS), 1)
    ]
    cast = _cast()
    return [
        sheet_of(who, PEOPLE, carried, cast, team="Herons", made_on=DAY, language=ENGLISH)
        for who in PEOPLE
    ]


def _cast() -> Cast:
    """Everybody in every play, three deep in each role."""
    deep = PLAYERS // len(ROLES)
    return cast_of(
        {
            slot: int(slot.role) + len(ROLES) * (slot.depth - 1)
            for slot in slots(range(1, PLAYS + 1), deep)
        }
    )
