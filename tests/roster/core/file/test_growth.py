"""No file costs more than its length: a text eight times as long is the work of eight texts."""

from __future__ import annotations

from collections.abc import Callable
from time import process_time

import pytest

from plays.core.calls import call_for
from plays.core.moves.side_words import is_doubtful, mirrored_text, names_a_place
from plays.core.shorthand.read import read as read_play_text
from roster.core.file import cells
from roster.core.file.roster import read_roster
from roster.core.file.table import table_of
from roster.core.file.text import BadTableError
from shared.core.language import ENGLISH

# What makes a careless pattern begin again at every letter, or sort a heap of accents.
SHORT, TIMES = 4_000, 8
UNITS = (
    " ",
    "5'",
    "PG /",
    "\t",
    "'",
    "{",
    "{a",
    "right ",
    "follows left ",
    "a\u0301\u0323",
    ",",
    "1,",
    '"\\',
    "“",
    "between a and ",
    "1's first new cut ",
    "a: ",
)


def cell_reader(read: Callable[..., object]) -> Callable[[str], object]:
    def look(text: str) -> object:
        try:
            return read(text, ENGLISH)
        except cells.BadCellError:
            return None

    return look


def table_reader(text: str) -> object:
    try:
        return table_of(text)
    except BadTableError:
        return None


READERS: dict[str, Callable[[str], object]] = {
    "positions": cell_reader(cells.positions_in),
    "height": cell_reader(cells.height_in),
    "heading": cells.column_of,
    "file": lambda text: read_roster(f"name,number\n{text},5".encode()),
    "headings": lambda text: read_roster(f"{text},name\n".encode()),
    "list": table_reader,
    "play": lambda text: read_play_text(f"phase 1: Way in\n1 cuts to {text}\n- {text}\n{text}: x"),
    "play in Spanish": lambda text: read_play_text(f"fase 1: Entrada\n1 corta a {text}\n{text}: x"),
    "place": lambda text: read_play_text(f"start:\n1 at {text.partition('6')[2][:-1]}the nail!"),
    "call": lambda text: call_for(text, {}, ENGLISH),
    "sides": lambda text: (mirrored_text(text), names_a_place(text), is_doubtful(text)),
}


FLOOR = 0.02  # seconds: coarser than a clock's grain


def took(read: Callable[[str], object], text: str, times: int = 1) -> float:
    """How long it takes to read a text so many times, in time of this process."""
    begun = process_time()
    for _ in range(times):
        read(text)
    return process_time() - begun


def best(read: Callable[[str], object], text: str, times: int = 1) -> float:
    """The shortest of five tries."""
    return min(took(read, text, times) for _ in range(5))


@pytest.mark.parametrize("name", READERS)
@pytest.mark.parametrize("unit", UNITS)
def test_work_grows_no_faster_than_the_text(name: str, unit: str) -> None:
    read = READERS[name]
    short = "5' 6" + unit * (SHORT // len(unit)) + "x"
    long = "5' 6" + unit * (TIMES * SHORT // len(unit)) + "x"
    # Work by the square would be TIMES times as much. What is far from that in its first try
    # needs no other one.
    once = took(read, long)
    if once >= 0.25 * TIMES * FLOOR and once >= 0.25 * TIMES * took(read, short, TIMES):
        assert best(read, long) < 0.5 * TIMES * max(best(read, short, TIMES), FLOOR)


def test_a_cell_longer_than_any_is_said_to_be() -> None:
    found = read_roster(("name,number,positions\nIda,7," + " /" * 40_000).encode())
    assert [(p.column, p.code) for p in found.problems] == [("positions", "long_cell")]


@pytest.mark.parametrize("place", ["heading", "cell"])
def test_a_cell_beyond_what_the_csv_module_takes(place: str) -> None:
    much = "a" * 140_000
    text = f"name,{much}\nIda,7" if place == "heading" else f"name,number\n{much},7"
    (problem,) = read_roster(text.encode()).problems
    assert problem.code == "bad_file"
    assert "100000 letters" in problem.sentence.replace(",", "")
