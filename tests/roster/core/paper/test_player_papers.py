"""Sheets and cards of a player on paper, read back by a reader that did not write them (pypdf)."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from io import BytesIO
from itertools import pairwise
from typing import Any

import pytest
from pypdf import PageObject, PdfReader

from plays.core.calls import CallName
from plays.core.words.role_part import ChangeKind
from roster.core.cast import PlayerId, cast_of, slots
from roster.core.paper import part_block
from roster.core.paper.blocks import Gap, Stack
from roster.core.paper.cards_pdf import write_pocket_cards, write_wrist_cards
from roster.core.paper.part_block import part_passage
from roster.core.paper.sheet import CarriedPlay, Sheet, sheet_of
from roster.core.paper.sheet_pdf import write_sheets
from shared.core.language import ENGLISH
from tests.plays.core.demo_plays import DEMO

DAY = date(2026, 11, 25)
PUBLISHED = datetime(2026, 10, 3, 18, tzinfo=UTC)
PLAYS = {play.key: play for play in DEMO}
CARRIED = [
    CarriedPlay(n, PLAYS[key], PUBLISHED, f"Call{n}", f"sign{n}")
    for n, key in enumerate(("gangway", "foghorn"), 1)
]
PEOPLE: dict[PlayerId, CallName] = {n: CallName(f"Player{n}", str(n)) for n in range(1, 11)}
# Who is first in a role stands first in it in both plays; 6 to 10 stand in.
CAST = cast_of({slot: int(slot.role) + 5 * (slot.depth - 1) for slot in slots([1, 2], 2)})
Line = tuple[float, float, str, float]


def made(player: int) -> Sheet:
    return sheet_of(player, PEOPLE, CARRIED, CAST, team="Herons", made_on=DAY, language=ENGLISH)


def read(write: Callable[..., None], *players: int) -> PdfReader:
    out = BytesIO()
    sheets = [made(player) for player in players]
    write(sheets, out, paper="a4", club="Lindwater", language=ENGLISH)
    return PdfReader(BytesIO(out.getvalue()))


def lines(page: PageObject) -> list[Line]:
    """Each piece of lettering: x, y, words and size, as set on the page."""
    found: list[Line] = []

    def visit(text: str, cm: list[float], tm: list[float], _: Any, size: float) -> None:
        if text.strip():
            x, y = tm[4] * cm[0] + cm[4], tm[5] * cm[3] + cm[5]
            found.append((x, y, text.strip(), round(size * cm[0] * tm[0], 2)))

    page.extract_text(visitor_text=visit)
    return found


# Half of A4 beside and half above each other, within the margins, less a gap between (our layout).
HALF = 841.89 / 2


def test_four_pocket_cards_stand_on_a_sheet_each_with_its_words_inside() -> None:
    (page,) = read(write_pocket_cards, 1, 2, 3, 4).pages
    found = lines(page)
    of_card = {f"Player{n} {n}" for n in range(1, 5)}
    names = {words: (x, y) for x, y, words, _ in found if words in of_card}
    assert len({x for x, _ in names.values()}) == len({y for _, y in names.values()}) == 2
    (left, top), (_, lower) = names["Player1 1"], names["Player3 3"]
    first = [y for x, y, words, _ in found if x == left and y > lower and words.startswith("Call")]
    assert len(first) == len(CARRIED)
    assert lower < min(first) < max(first) < top
    # The second row begins at half the height, a card's padding below the line to cut along.
    assert HALF - 40 < lower < HALF
    head = max(y for _, y, _, _ in found)
    assert top < head - 20, "no card runs into the head of the page"


@pytest.mark.parametrize("write", [write_pocket_cards, write_wrist_cards])
def test_a_card_says_whose_it_is_in_small_print_and_the_calls_large(
    write: Callable[..., None],
) -> None:
    (page,) = read(write, 2, 7).pages
    size = {words: high for _, _, words, high in lines(page)}
    small = {size["Player2 2"], size["Player7 7"], size["· Herons · 25 November 2026"]}
    assert small == {8.0}
    assert size["Call1"] == size["Call2"] > 8.0
    assert any(words.startswith("2, stand-in") for words in size)


def test_wristband_cards_are_52_mm_high() -> None:
    (page,) = read(write_wrist_cards, 1, 2, 3).pages
    at = {words: y for _, y, words, _ in lines(page)}
    # 52 mm (the window of common wristbands; common practice) and the gap between two rows.
    between = at["Player1 1"] - at["Player3 3"]
    assert 52 / 25.4 * 72 < between < 55 / 25.4 * 72


def test_a_sheet_teaches_each_step_in_words_set_in_below_it() -> None:
    found = lines(read(write_sheets, 1).pages[0])
    (step,) = [each for each in found if each[2].startswith("When the ball is in, go on")]
    (teach,) = [each for each in found if each[2].startswith("Step in at once and stand")]
    assert step[0] < teach[0] < step[0] + 15
    assert step[1] - 30 < teach[1] < step[1]


def test_the_calls_tell_their_pages_and_those_pages_carry_them() -> None:
    reader = read(write_sheets, 7)
    opening = lines(reader.pages[0])
    for n in (1, 2):
        (at,) = [(x, y) for x, y, words, _ in opening if words == f"Call{n}" and y > 750]
        pages = [(x, words) for x, y, words, _ in opening if y == at[1] and words.startswith("p. ")]
        (said,) = [words for x, words in pages if 0 < x - at[0] < 260]
        page = lines(reader.pages[int(said.removeprefix("p. ")) - 1])
        assert any(words == f"Call{n}" and high == 14.0 for _, _, words, high in page)


def test_the_calls_stand_one_below_the_other_on_even_lines() -> None:
    """As many calls as fill three lines of both columns; a line is 12.5 points (our layout)."""
    many = [replace(CARRIED[0], id=n, call=f"Call{n}", signal="") for n in range(1, 7)]
    cast = cast_of({slot: int(slot.role) for slot in slots(range(1, 7), 1)})
    out = BytesIO()
    sheet = sheet_of(1, PEOPLE, many, cast, team="Herons", made_on=DAY, language=ENGLISH)
    write_sheets([sheet], out, paper="a4", club="Lindwater", language=ENGLISH)
    read_back = lines(
        PdfReader(out).pages[0]
    )  # the calls stand before the parts, which name them too
    found = {words: (x, y) for x, y, words, _ in reversed(read_back)}
    column = [found[f"Call{n}"] for n in (1, 2, 3)]
    assert len({x for x, _ in column}) == 1
    gaps = [above - below for (_, above), (_, below) in pairwise(column)]
    assert gaps == pytest.approx([12.5, 12.5], abs=0.1)


def test_there_is_air_after_a_part_and_none_within_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """Rows of one part follow each other; only after the last is the gap before the next part.

    In two columns, three diagrams take two rows.
    """
    monkeypatch.setattr(part_block, "STRIP", 2)
    counts = set()
    for play in DEMO:
        carried = [CarriedPlay(1, play, PUBLISHED, "Call")]
        (part,) = sheet_of(
            2, PEOPLE, carried, CAST, team="Herons", made_on=DAY, language=ENGLISH
        ).parts
        for width in (260.0, 523.0):
            rows = part_passage(part, DAY, width, ENGLISH).rows
            last = [
                isinstance(row, Stack) and row.blocks[-1] == Gap(part_block.AIR) for row in rows
            ]
            assert last == [False] * (len(rows) - 1) + [True]
            counts.add(len(rows))
    assert counts >= {1, 2}


@pytest.mark.parametrize("player", range(1, 11))
def test_no_look_is_a_bare_number(player: int) -> None:
    """A look that a counter leaves as it was says so: a number alone tells the passer nothing."""
    text = "\n".join(page.extract_text() for page in read(write_sheets, player).pages)
    alone = re.findall(r"^Look \d\.$(?!\n+As before)", text, re.MULTILINE)
    assert not alone
    if player == 1:  # who passes the ball in reads all looks in every counter
        assert "As before." in text


def test_a_look_that_a_counter_changes_is_written_out() -> None:
    """Only what is as against a plain defence may be "As before."."""
    changed = 0
    for player in range(1, 6):
        pages = read(write_sheets, player).pages
        text = " ".join(" ".join(page.extract_text() for page in pages).split())
        for part in made(player).parts:
            before = {look.look: look.sentences[1:] for look in part.part.looks}
            for counter in part.part.counters:
                if all(change.kind is not ChangeKind.LOOKS for change in counter.changes):
                    continue
                for look in counter.part.looks:
                    if before.get(look.look) != look.sentences[1:]:
                        changed += 1
                        assert look.text in text
    assert changed > 5


def test_who_has_many_roles_gets_a_second_pocket_card_in_readable_letters() -> None:
    """Ten plays in full: nothing but the line of team and date is smaller than 9 pt."""
    plays = [
        CarriedPlay(n, play, PUBLISHED, f"Call{n}", f"sign{n}")
        for n, play in enumerate(DEMO[:10], 1)
    ]
    keys = list(range(1, 11))
    cast = cast_of({slot: int(slot.role) + 5 * (slot.depth - 1) for slot in slots(keys, 2)})
    sheets = [
        sheet_of(who, PEOPLE, plays, cast, team="Herons", made_on=DAY, language=ENGLISH)
        for who in (1, 7)
    ]
    out = BytesIO()
    write_pocket_cards(sheets, out, paper="letter", club="Lindwater", language=ENGLISH)
    found = [line for page in PdfReader(BytesIO(out.getvalue())).pages for line in lines(page)]
    words = [said for _, _, said, _ in found]
    for number in keys:
        assert sum(said == f"Call{number}" for said in words) == 2, number
    assert max(words.count(name) for name in ("Player1 1", "Player7 7")) > 1
    foot = {"Lindwater", "Herons", "Player", *(play.name for play in DEMO)}
    small = [said for _, _, said, high in found if high < 9.0]
    assert not [said for said in small if not any(word in said for word in foot)]
