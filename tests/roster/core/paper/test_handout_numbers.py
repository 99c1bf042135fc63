"""A handout numbers its diagrams, and says what everybody does under the same numbers."""

from __future__ import annotations

import io
import re
from datetime import UTC, date, datetime

import pytest
from pypdf import PdfReader

from plays.core.check.begun import begun
from plays.core.play import ROLES, Play, Swap, Variant
from plays.core.words.part import part_of
from plays.core.words.variants import OtherCall
from roster.core.paper.leaf import Edge
from roster.core.paper.sheet import CarriedPlay
from roster.core.paper.team_pdf import PlayHandout, write_handouts
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO
from tests.plays.core.drawing.drawn_plays import NAMES
from tests.roster.core.paper.test_player_papers import lines

PUBLISHED = datetime(2026, 10, 3, 18, tzinfo=UTC)


def written(play: Play, *others: OtherCall) -> bytes:
    carried = CarriedPlay(1, play, PUBLISHED, play.call)
    handout = PlayHandout(carried, play.call, NAMES, NAMES, others)
    out = io.BytesIO()
    write_handouts([handout], out, Edge("Herons", date(2026, 3, 2)), paper="a4", language=ENGLISH)
    return out.getvalue()


@pytest.mark.parametrize("play", DEMO[::4], ids=lambda play: play.key)
def test_a_step_has_the_number_of_its_line_in_the_diagram(play: Play) -> None:
    order = begun(play)
    pages = PdfReader(io.BytesIO(written(play))).pages
    said = " ".join(" ".join(page.extract_text() for page in pages).split())
    for role in ROLES:
        for step in part_of(play, role, NAMES, ENGLISH).steps:
            first = re.escape(" ".join(step.text.split()[:3]))
            number = order.get(step.action)
            if number is not None:
                assert re.search(rf"\b{number} {first}", said), (role, step.text)


@pytest.mark.parametrize("play", DEMO[::4], ids=lambda play: play.key)
def test_no_letter_of_a_handout_is_too_small_to_read(play: Play) -> None:
    """9 points, ours, in the diagrams and in what their lines mean; the page's edges have less."""
    for page in PdfReader(io.BytesIO(written(play))).pages:
        small = [
            (said, high)
            for _, y, said, high in lines(page)
            # In the black square of a number the digit fills the square.
            if high < 8.99 and 60 < y < float(page.mediabox.height) - 60 and not said.isdigit()
        ]
        assert small == []


def test_a_further_call_stands_with_its_sign_where_it_has_one() -> None:
    swapped = Variant("Loud", swaps=(Swap("2", "3"),))
    others = OtherCall("Loud", "", swapped), OtherCall("Quiet", "two fingers", swapped)
    page = PdfReader(io.BytesIO(written(DEMO[0], *others))).pages[0]
    text = " ".join(page.extract_text().split())
    loud, quiet = text.index("Loud"), text.index("Quiet")
    assert "Signal" not in text[loud:quiet]
    assert "Signal: two fingers" in text[quiet : quiet + 200]
