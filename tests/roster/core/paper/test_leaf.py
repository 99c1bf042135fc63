"""Papers at their ends, read back by pypdf: nothing to print, one page, more calls, shrinking."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime
from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

from plays.core.calls import CallName
from roster.core.cast import Cast, PlayerId, Slot, cast_of, slots
from roster.core.paper import part_block
from roster.core.paper.blocks import LEADING, Shrunk, stack, text
from roster.core.paper.cards_pdf import write_pocket_cards, write_wrist_cards
from roster.core.paper.leaf import Booklet, Edge, Passage, flow, write_booklets
from roster.core.paper.part_block import Heading, forget
from roster.core.paper.sheet import CarriedPlay, Sheet, sheet_of
from roster.core.paper.sheet_pdf import write_sheets
from roster.core.paper.team_pdf import CallLine, write_call_card, write_handouts
from shared.core.drawing.fonts import text_width
from shared.core.drawing.pdf import REGULAR, register_fonts
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO

DAY = date(2026, 11, 25)
PUBLISHED = datetime(2026, 10, 12, 18, 0, tzinfo=UTC)
EDGE = Edge("Herons", DAY, "Lindwater")
PLAYS = {play.key: play for play in DEMO}
PEOPLE: dict[PlayerId, CallName] = {n: CallName(f"Player{n}", str(n)) for n in range(1, 11)}
TIDE = CarriedPlay(1, PLAYS["tidegate"], PUBLISHED, "Tide", "fist")
CAST = cast_of({slot: int(slot.role) + 5 * (slot.depth - 1) for slot in slots([1], 2)})
Line = tuple[float, float, str, float]


def sheet(player: int, cast: Cast = CAST, **more: Any) -> Sheet:
    return sheet_of(
        player, PEOPLE, [TIDE], cast, team="Herons", made_on=DAY, language=ENGLISH, **more
    )


def read(write: Callable[..., None], *sheets: Sheet) -> PdfReader:
    out = BytesIO()
    write(list(sheets), out, paper="a4", club="Lindwater", language=ENGLISH)
    return PdfReader(BytesIO(out.getvalue()))


def lines(reader: PdfReader, page: int = 0) -> list[Line]:
    """Each piece of lettering: x, y, words and size, as set on the page."""
    found: list[Line] = []

    def visit(said: str, cm: list[float], tm: list[float], _: Any, size: float) -> None:
        if said.strip():
            x, y = tm[4] * cm[0] + cm[4], tm[5] * cm[3] + cm[5]
            found.append((x, y, said.strip(), round(size * cm[0] * tm[0], 2)))

    reader.pages[page].extract_text(visitor_text=visit)
    return found


def drawn(draw: Callable[[Canvas], None]) -> list[Line]:
    register_fonts()
    out = BytesIO()
    canvas = Canvas(out, pagesize=(400, 400), initialFontName=REGULAR)
    draw(canvas)
    canvas.save()
    return lines(PdfReader(BytesIO(out.getvalue())))


@pytest.mark.parametrize(
    ("write", "said"),
    [
        (write_sheets, "there is no sheet to write"),
        (write_pocket_cards, "there is no card to write"),
        (write_wrist_cards, "there is no card to write"),
    ],
)
def test_nothing_is_no_paper(write: Callable[..., None], said: str) -> None:
    with pytest.raises(ValueError, match=f"^{said}$"):
        read(write)


def test_no_play_is_no_handout() -> None:
    with pytest.raises(ValueError, match=r"^there is no play to write$"):
        write_handouts([], BytesIO(), EDGE, paper="a4", language=ENGLISH)


def test_a_paper_of_an_unknown_size_is_refused() -> None:
    with pytest.raises(KeyError):
        write_sheets([sheet(1)], BytesIO(), paper="a9", club="", language=ENGLISH)


def test_who_is_in_no_play_is_told_whom_to_ask_and_each_begins_on_a_front() -> None:
    """Printed on both sides: after one page an empty back, after two none."""
    idle = sheet(10, cast_of({Slot(1, "1", 1): 1}))
    reader = read(write_sheets, idle, idle, idle)
    said = [page.extract_text() for page in reader.pages]
    assert ["You are in no play yet. Ask your coach." in text for text in said] == [
        True,
        False,
        True,
        False,
        True,
    ]
    assert said[1].strip() == said[3].strip() == ""
    assert "page 1 of 1" in said[2]


def booklets(*counts: int, fronts: bool = True) -> list[str]:
    """One letter for each page: the booklet's place, or a line for an empty page."""
    made = [
        Booklet(f"b{n}", flow([Passage((text(f"booklet {n}", 90, 9),))] * count, 12.0))
        for n, count in enumerate(counts)
    ]
    out, told = BytesIO(), list[int]()
    write_booklets(
        made, out, EDGE, title="t", paper="a4", language=ENGLISH, tell=told.append, fronts=fronts
    )
    assert told == list(range(1, len(counts) + 1))
    found = [page.extract_text() for page in PdfReader(BytesIO(out.getvalue())).pages]
    return [text.split("booklet ")[1][0] if "booklet" in text else "-" for text in found]


def test_booklets_begin_on_fronts_only_where_they_are_to() -> None:
    assert "".join(booklets(1, 2, 3, 1)) == "0-11222-3"
    assert "".join(booklets(1, 2, 3, 1, fronts=False)) == "0112223"
    assert "".join(booklets(2)) == "00"


def test_a_further_call_stands_in_the_calls_of_a_sheet_with_the_role_on_it() -> None:
    """On "Tide {3}" of the demo club's play 2 and 3 do each other's job; the others keep theirs."""
    for player, job in ((1, "role 1"), (2, "role 2 as 3"), (3, "role 3 as 2")):
        reader = read(write_sheets, sheet(player))
        found = lines(reader)
        (call,) = [each for each in found if each[2] == "Tide Player3"][:1]
        beside = [words for _, y, words, _ in found if abs(y - call[1]) < 0.5]
        assert any(words.startswith(job) for words in beside), beside
        assert any("both hands part the air" in words for words in beside)
    second = " ".join(words for _, _, words, _ in lines(read(write_sheets, sheet(7))))
    assert "2, stand-in" in second


@pytest.mark.parametrize("write", [write_pocket_cards, write_wrist_cards])
def test_a_card_has_a_line_for_every_call_of_a_play(write: Callable[..., None]) -> None:
    found = lines(read(write, sheet(2)))
    first = next(each for each in found if each[2] == "Tide")
    other = next(each for each in found if each[2] == "Tide Player3")
    assert "Tide Player3 2 as 3" in " ".join(words for _, _, words, _ in found)
    assert other[3] == first[3], "in letters as large as the first call's"


def test_what_is_so_for_now_stands_bold_in_the_part() -> None:
    out = BytesIO()
    write_sheets([sheet(1, out={3})], out, paper="a4", club="", language=ENGLISH)
    words = " ".join(said for _, _, said, _ in lines(PdfReader(BytesIO(out.getvalue()))))
    assert "For now Player8 takes role 3 in place of Player3." in words


# --- blocks -------------------------------------------------------------------------------


def test_a_heading_has_all_on_one_line_or_the_rest_beneath() -> None:
    """A call in 14 points; what goes with it follows on its baseline, or on a line of its own."""
    call, said = "Tide", "Role 2 · Tidegate, revision 3"
    wide, narrow = Heading(call, said, 300.0), Heading(call, said, 90.0)
    assert narrow.height - wide.height == pytest.approx(part_block.SMALL * LEADING)
    one = {words: at for *at, words, _ in drawn(lambda canvas: wide.draw(canvas, 20, 300))}
    assert one[call][1] == pytest.approx(one[said][1])
    after = text_width("Tide  ", part_block.CALL, bold=True)
    assert one[said][0] == pytest.approx(20 + after, abs=0.1)
    two = drawn(lambda canvas: narrow.draw(canvas, 20, 300))
    assert two[0][2] == call
    assert two[1][0] == two[0][0] == pytest.approx(20)
    assert two[0][1] - two[1][1] > 8


def test_a_heading_that_just_fits_stays_on_one_line() -> None:
    room = text_width("Tide  ", part_block.CALL, bold=True) + text_width("Role 2", part_block.SMALL)
    just, less = Heading("Tide", "Role 2", room + 1e-6), Heading("Tide", "Role 2", room - 0.1)
    assert just.height == part_block.CALL * LEADING
    assert less.height > just.height


def test_a_block_higher_than_the_page_is_drawn_smaller_from_its_own_corner() -> None:
    """Half as high means half as large in both directions, with the same corner."""
    block = stack([text(f"line {n}", 100, 10) for n in range(8)])
    whole = drawn(lambda canvas: block.draw(canvas, 40, 350))
    half = drawn(lambda canvas: Shrunk(block, block.height / 2).draw(canvas, 40, 350))
    assert [words for *_, words, _ in half] == [words for *_, words, _ in whole]
    for (x, y, _, size), (at_x, at_y, _, small) in zip(whole, half, strict=True):
        assert small == pytest.approx(size / 2)
        assert (at_x - 40, 350 - at_y) == pytest.approx(((x - 40) / 2, (350 - y) / 2), abs=0.01)


def test_what_is_drawn_after_a_shrunk_block_has_its_own_size_again() -> None:
    block = text("small", 100, 10)

    def draw(canvas: Canvas) -> None:
        Shrunk(block, block.height / 2).draw(canvas, 40, 350)
        text("large", 100, 10).draw(canvas, 40, 200)

    assert {words: size for *_, words, size in drawn(draw)} == {"small": 5.0, "large": 10.0}


def test_diagrams_that_were_kept_are_forgotten() -> None:
    read(write_sheets, sheet(7))
    assert part_block._numbers_only.cache_info().currsize > 0
    forget()
    assert part_block._numbers_only.cache_info().currsize == 0


# --- the calls on the wall ----------------------------------------------------------------


def wall(count: int) -> list[Line]:
    calls = [
        CallLine(f"Call{n}", "palm" if n else "", f"Play{n}", f"{n + 3} October 2026")
        for n in range(count)
    ]
    out = BytesIO()
    write_call_card(calls, out, team="Herons", made_on=DAY, club="", paper="a4", language=ENGLISH)
    return lines(PdfReader(BytesIO(out.getvalue())))


def test_the_calls_on_the_wall_are_as_large_as_one_page_allows() -> None:
    few, many = wall(3), wall(20)
    sizes = [next(size for *_, words, size in each if words == "Call2") for each in (few, many)]
    assert sizes[0] > sizes[1]
    assert {f"Call{n}" for n in range(20)} <= {words for *_, words, _ in many}
    at = {words: (x, y) for x, y, words, _ in few}
    assert at["no signal"][1] == pytest.approx(at["Call0"][1])
    assert at["Play1, as of 4 October 2026"][0] == pytest.approx(at["Call1"][0])
    assert at["Play1, as of 4 October 2026"][1] < at["Call1"][1]
    assert at["palm"][0] == pytest.approx(at["no signal"][0])
