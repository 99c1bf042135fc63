"""Everything that is printed for the team stays as somebody approved it by eye.

The plays, the people and the layout are ours; what standards say of paper is held in other tests.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from io import BytesIO

import pytest
from pypdf import PdfReader

from plays.core.calls import CallName
from plays.core.play import ROLES
from roster.core.cast import PlayerId, cast_of, slots
from roster.core.paper.bench_pdf import BenchColumn, BenchPlay, write_bench_card
from roster.core.paper.cards_pdf import write_pocket_cards, write_wrist_cards
from roster.core.paper.grid_pdf import GridLine, GridName, GridSheet, write_grid
from roster.core.paper.leaf import Edge
from roster.core.paper.playbook_pdf import write_playbook
from roster.core.paper.sheet import CarriedPlay, Sheet, sheet_of
from roster.core.paper.sheet_pdf import write_sheets
from roster.core.paper.team_pdf import CallLine, PlayHandout, write_call_card, write_handouts
from shared.core.drawing.picture import Sink
from shared.core.language import ENGLISH
from tests.kept_pages import assert_pages_kept
from tests.plays.core.drawing.drawn_plays import GATEHOUSE, MILLWHEEL

DAY = date(2026, 11, 25)
CARRIED = [
    CarriedPlay(1, GATEHOUSE, datetime(2026, 10, 3, 18, tzinfo=UTC), "Lock", "fist on palm"),
    CarriedPlay(2, MILLWHEEL, datetime(2026, 11, 25, 7, 5, tzinfo=UTC), "Mill", ""),
]
FIRST = ("Ida", "Runa", "Maximiliane", "Zoë", "Łucja", "Ann", "Bea", "Cia", "Dia", "Eva")
PEOPLE: dict[PlayerId, CallName] = {n: CallName(name, str(n)) for n, name in enumerate(FIRST, 1)}
CAST = cast_of({slot: int(slot.role) + 5 * (slot.depth - 1) for slot in slots([1, 2], 2)})
FIVE = "1 Ida · 2 Runa · 3 Maximiliane · 4 Zoë · 5 Łucja"
EDGE = Edge("Herons", DAY, "Lindwater", "No contact until the third practice.")


def sheet(player: int) -> Sheet:
    return sheet_of(player, PEOPLE, CARRIED, CAST, team="Herons", made_on=DAY, language=ENGLISH)


def handout(number: int) -> PlayHandout:
    carried = CARRIED[number]
    names = {role: FIRST[n] for n, role in enumerate(ROLES)}
    places = {role: f"{FIRST[n]}, {FIRST[n + 5]}" for n, role in enumerate(ROLES)}
    return PlayHandout(carried, carried.call, names, places)


def columns(plays: int) -> list[BenchColumn]:
    can = tuple(
        BenchPlay(
            f"Call {n}", "fist over head" if n % 2 else "", FIVE, (("Other", "palm"),) * (n == 1)
        )
        for n in range(plays)
    )
    return [
        BenchColumn("First five", "Ida, Runa, Maximiliane, Zoë, Łucja", can, ("Ferry", "Lock")),
        BenchColumn("Tall five", "Ann, Bea, Cia, Dia, Eva", can[:2], ()),
    ]


def grid() -> GridSheet:
    cells = tuple(
        (GridName(f"Ann {n}", is_out=n == 3), GridName(f"Bea {n}", steps_in=n == 3), GridName(""))
        for n in range(5)
    )
    return GridSheet("Herons", DAY, tuple(GridLine(f"C {n}", f"Play {n}", cells) for n in range(3)))


def calls(count: int) -> list[CallLine]:
    return [
        CallLine(f"Call {n}", "palm up" if n % 3 else "", f"Play {n}", f"{n + 1} May 2026")
        for n in range(count)
    ]


PAGES: dict[str, Callable[[Sink], None]] = {
    "sheet-first": lambda out: write_sheets(
        [sheet(2)], out, paper="a4", club="Lindwater", language=ENGLISH
    ),
    "sheet-stand-in": lambda out: write_sheets(
        [sheet(9)], out, paper="letter", club="", language=ENGLISH
    ),
    "pocket-cards": lambda out: write_pocket_cards(
        [sheet(n) for n in (1, 3, 8)], out, paper="a4", club="Lindwater", language=ENGLISH
    ),
    "wrist-cards": lambda out: write_wrist_cards(
        [sheet(n) for n in (1, 3, 8)], out, paper="a4", club="Lindwater", language=ENGLISH
    ),
    "handouts": lambda out: write_handouts(
        [handout(0), handout(1)], out, EDGE, paper="a4", language=ENGLISH
    ),
    "playbook": lambda out: write_playbook(
        [handout(0), handout(1)], out, EDGE, paper="a4", language=ENGLISH
    ),
    "grid": lambda out: write_grid(grid(), out, paper="letter", language=ENGLISH),
    "bench-card": lambda out: write_bench_card(
        columns(6), out, team="Herons", made_on=DAY, paper="a4", language=ENGLISH
    ),
    "bench-card-of-many": lambda out: write_bench_card(
        columns(40), out, team="Herons", made_on=DAY, paper="a4", language=ENGLISH, plays="As of p"
    ),
    "call-card": lambda out: write_call_card(
        calls(7), out, team="Herons", made_on=DAY, club="Lindwater", paper="a4", language=ENGLISH
    ),
    "call-card-of-many": lambda out: write_call_card(
        calls(40), out, team="Herons", made_on=DAY, club="", paper="letter", language=ENGLISH
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_printed_as_it_was_approved(name: str) -> None:
    out = BytesIO()
    PAGES[name](out)
    assert_pages_kept(PdfReader(BytesIO(out.getvalue())), __file__, name)
