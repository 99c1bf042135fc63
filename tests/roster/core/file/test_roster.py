"""The roster file: read back as written, in the encodings and separators people really send."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from unicodedata import normalize

import pytest
from hypothesis import given
from hypothesis import strategies as st

from plays.core.play import Quality
from roster.core.file.cells import COLUMNS, POSITION_LETTERS
from roster.core.file.roster import PlayerRow, RosterFile, read_roster, write_roster
from roster.core.file.table import Matching, table_of
from roster.core.people import RATED, Availability

HEAD = ",".join(COLUMNS)
IDA = "Ida,7,172,PG/SG,4,2,5,3,4,2,5,available"


def read(*lines: str, encoding: str = "utf-8") -> RosterFile:
    return read_roster("\r\n".join(lines).encode(encoding))


def codes(found: RosterFile) -> list[tuple[int | None, str | None, str]]:
    return [(problem.line, problem.column, problem.code) for problem in found.problems]


def test_one_good_row() -> None:
    found = read(HEAD, IDA)
    assert found.problems == ()
    (ida,) = found.players
    assert ida == PlayerRow(
        name="Ida",
        number="7",
        height_cm=172,
        positions=("1", "2"),
        ratings=dict(zip(RATED, (4, 2, 5, 3, 4, 2, 5), strict=True)),
        availability=Availability.AVAILABLE,
    )
    assert found.rows[0].line == 2


def test_what_is_left_empty_is_not_known() -> None:
    (row,) = read("name,number,passing", "Noor,00,").players
    assert row == PlayerRow("Noor", "00")


def test_headings_in_other_words_and_any_order() -> None:
    found = read("Número;Nombre;Altura (cm);Pase;Reading the game", "4;Zoë;180;5;2")
    assert found.separator == ";"
    (row,) = found.players
    assert (row.name, row.number, row.height_cm) == ("Zoë", "4", 180)
    assert row.ratings == {Quality.PASSING: 5, Quality.READING: 2}


@pytest.mark.parametrize(
    ("encoding", "told"),
    [("utf-8", "utf-8"), ("utf-8-sig", "utf-8"), ("cp1252", "cp1252"), ("latin-1", "cp1252")],
)
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_encodings_and_separators(encoding: str, told: str, separator: str) -> None:
    text = f"name{separator}number\r\nZoë Åkerø{separator}4\r\n"
    found = read_roster(text.encode(encoding))
    assert [row.name for row in found.players] == ["Zoë Åkerø"]
    assert (found.encoding, found.separator) == (told, separator)


def test_what_was_taken_for_granted_is_told() -> None:
    found = read("name;number;shoe size", "Zoë;4;39", encoding="latin-1")
    assert found.notes == (
        "Read as an older kind of text (Windows-1252): look at the letters with accents.",
        "Cells are separated by semicolons.",
        "Not used, since this app knows no such column: shoe size.",
    )


def test_utf16_as_spreadsheets_save_it() -> None:
    found = read_roster("name\tnumber\r\nZoë\t4\r\n".encode("utf-16"))
    assert (found.players[0].name, found.encoding) == ("Zoë", "utf-16")


def test_quoted_cells_with_separator_quote_and_blank_lines() -> None:
    found = read("name,number", "", '"Ida ""Ice"", the first",7', "", "Noor,8")
    assert [row.name for row in found.players] == ['Ida "Ice", the first', "Noor"]
    assert [row.line for row in found.rows] == [3, 5]


@pytest.mark.parametrize(
    ("row", "column", "code"),
    [
        (",7,172,,,,,,,,,", "name", "empty_name"),
        ("Ida,,172,,,,,,,,,", "number", "no_number"),
        ("Ida,100,172,,,,,,,,,", "number", "bad_number"),
        ("Ida,07,172,,,,,,,,,", "number", "bad_number"),
        ("Ida,7,17,,,,,,,,,", "height_cm", "bad_height"),
        ("Ida,7,1720,,,,,,,,,", "height_cm", "bad_height"),
        ("Ida,7,172,XX,,,,,,,,", "positions", "bad_position"),
        ("Ida,7,172,,6,,,,,,,", "passing", "bad_rating"),
        ("Ida,7,172,,0,,,,,,,", "passing", "bad_rating"),
        ("Ida,7,172,,,good,,,,,,", "strength", "bad_rating"),
        ("Ida,7,172,,,,,,,,2.5,", "reading", "bad_rating"),
        ("Ida,7,172,,,,,,,,,ankle", "availability", "bad_availability"),
        ("Ida,7,172", None, "wrong_length"),
        ("Ida, the first,7,172,,,,,,,,,", None, "wrong_length"),
    ],
)
def test_each_fault_is_told_at_its_place(row: str, column: str | None, code: str) -> None:
    found = read(HEAD, "Noor,8,165,,,,,,,,,", row)
    assert codes(found) == [(3, column, code)]
    assert [player.name for player in found.players] == ["Noor"]
    assert found.problems[0].sentence.endswith(".")


def test_all_faults_of_a_row_and_of_a_file() -> None:
    found = read(HEAD, ",7,17,,9,,,,,,,", IDA, "Mia,7,,,,,,,,,,no", "ida,9,,,,,,,,,,")
    assert codes(found) == [
        (2, "name", "empty_name"),
        (2, "height_cm", "bad_height"),
        (2, "passing", "bad_rating"),
        (3, "number", "number_twice"),
        (4, "availability", "bad_availability"),
        (4, "number", "number_twice"),
    ]
    assert [player.number for player in found.players] == ["9"]
    assert [problem.code for problem in found.problems_of(4)] == [
        "bad_availability",
        "number_twice",
    ]


@pytest.mark.parametrize(
    ("height", "centimetres"),
    [
        *[("1.72", 172), ("1,72 m", 172), ("172 cm", 172), ("5'6\"", 168), ("5’8", 173)],
        *[("5 ft 10 in", 178), ("6′", 183), ("6'0''", 183), ("5-10", 178), ("5' 9.5\"", 177)],
    ],
)
def test_a_height_in_another_unit_is_turned_into_centimetres(height: str, centimetres: int) -> None:
    """1 ft = 30.48 cm and 1 in = 2.54 cm, exactly (international yard, 1959)."""
    (row,) = read("name\tnumber\theight", f"Ida\t7\t{height}").rows
    assert row.player is not None
    assert row.player.height_cm == centimetres


@pytest.mark.parametrize("height", ["5'12\"", "5-12", "2-6", "9'", "510", "5.10", "17", "172 in"])
def test_what_is_no_height_in_any_unit_is_told(height: str) -> None:
    (problem,) = read("name\tnumber\theight", f"Ida\t7\t{height}").problems
    assert (problem.code, problem.column) == ("bad_height", "height_cm")


def test_held_against_the_present_roster() -> None:
    found = read_roster(
        b"name,number\nIda,9\nMia,7\nNoor,8\n", present=[("IDA", "4"), ("Lin", "7")]
    )
    assert codes(found) == [(3, "number", "number_taken")]
    assert found.problems[0].sentence == "Number 7 is used already: Lin on the roster has it."
    assert [row.name for row in found.players] == ["Ida", "Noor"]


def test_two_of_one_name_are_told_apart_by_their_numbers() -> None:
    found = read_roster(
        b"name,number\nIda,9\nida,7\nNoor,8\n", present=[("NOOR", "4"), ("Noor", "5")]
    )
    assert [row.number for row in found.players] == ["9", "7", "8"]
    said = "More than one player is called {}: their numbers tell them apart."
    assert {said.format("ida"), said.format("Noor")} <= set(found.notes)


@pytest.mark.parametrize(
    ("data", "line", "code"),
    [
        (b"", None, "bad_file"),
        (b"\r\n \r\n", None, "bad_file"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", None, "bad_file"),
        (b"PK\x03\x04\x14\x00", None, "bad_file"),
        (b"\xff\xfeabc", None, "bad_file"),
        (b'name,number\nIda,7\n"Noor,8\n', 3, "bad_file"),
        (b"first,second\nIda,7\n", 1, "no_name_column"),
        (b"name,number,no\nIda,7,8\n", 1, "column_twice"),
        (b"name,number\n" + b"Ida,7\n" * 1001, None, "bad_file"),
    ],
)
def test_files_that_are_no_roster(data: bytes, line: int | None, code: str) -> None:
    found = read_roster(data)
    assert [(problem.line, problem.code) for problem in found.problems] == [(line, code)]
    assert found.players == ()


def test_no_name_column_lists_what_is_expected() -> None:
    (problem,) = read("first,second", "Ida,7").problems
    assert problem.sentence.endswith(f"{', '.join(COLUMNS)}.")


LETTERS = st.characters(codec="utf-8", exclude_categories=["C", "Z"])
names = st.text(LETTERS, min_size=1, max_size=12).map(lambda name: normalize("NFC", name))
rows = st.builds(
    PlayerRow,
    name=names,
    number=st.sampled_from(["0", "00", *map(str, range(1, 100))]),
    height_cm=st.none() | st.integers(90, 240),
    positions=st.lists(st.sampled_from(sorted(POSITION_LETTERS)), unique=True).map(tuple),
    ratings=st.dictionaries(st.sampled_from(RATED), st.integers(1, 5)),
    availability=st.sampled_from(Availability),
)


@given(st.lists(rows, max_size=6, unique_by=lambda row: row.number))
def test_what_is_written_reads_back_the_same(players: list[PlayerRow]) -> None:
    """Names are told apart by what is put behind them."""
    told_apart = [replace(row, name=f"{row.name} x{row.number}x") for row in players]
    found = read_roster(write_roster(told_apart))
    assert found.problems == ()
    assert list(found.players) == told_apart


FORMULAS = ["=1+2", "+7", "-x", "@cmd", "'=x", "''@y", "'quoted'", "＝z", "O'Hara"]


@pytest.mark.parametrize("name", FORMULAS)
def test_no_cell_is_run_as_a_formula_and_the_name_survives(name: str) -> None:
    """OWASP, "CSV Injection": no cell may begin with = + - @, tab or carriage return."""
    data = write_roster([PlayerRow(name, "7")])
    table = list(csv.reader(io.StringIO(data.decode("utf-8-sig"), newline="")))
    assert table[1][0][0] not in "=+-@\t\r＝＋－＠"
    assert read_roster(data).players[0].name == name


def test_written_bytes() -> None:
    ida = PlayerRow("Ida", "00", 172, ("1", "2"), {Quality.PASSING: 4})
    assert write_roster([ida]) == (
        b"\xef\xbb\xbfname,number,height_cm,positions,passing,strength,speed,finishing,shooting,"
        b"screening,reading,availability\r\nIda,00,172,PG/SG,4,,,,,,,available\r\n"
    )


def test_availability_asks_for_no_diagnosis() -> None:
    (problem,) = read("name,number,status", "Ida,7,sprained ankle").problems
    assert problem.sentence.endswith("No diagnosis, please.")


@pytest.mark.parametrize(
    ("name", "code"), [("Ida\u202e", "strange_name"), ("I" * 200, "long_name"), (" ", "empty_name")]
)
def test_a_name_that_no_person_has_is_told(name: str, code: str) -> None:
    found = read_roster(f'name,number\n"{name}",7\nNoor,8'.encode())
    assert code in [each.code for each in found.problems]


def test_a_number_that_is_used_is_told_with_who_has_it() -> None:
    """On the roster before the file, and in the file before the line."""
    text = "\r\n".join(("name,number", "Ida,7", "Noor,7", "Mia,8"))
    found = read_roster(text.encode(), present=[("Eva", "8")])
    assert [(each.line, each.code, each.sentence) for each in found.problems] == [
        (3, "number_twice", "Number 7 is used twice: Ida has it in line 2."),
        (4, "number_taken", "Number 8 is used already: Eva on the roster has it."),
    ]
    assert [player.name for player in found.players] == ["Ida"]
    assert found.problems_of(2) == ()
    assert found.problems_of(4) == (found.problems[1],)


def test_two_hundred_lines_are_read_and_one_more_is_not() -> None:
    """The heading is one of them."""
    lines = [f"Player {n},{n}" for n in range(1, 200)]
    most = read("name,number", *lines)
    assert len(most.rows) == 199
    over = read("name,number", *lines, "One more,1")
    assert over.rows == ()
    assert [(each.code, each.sentence) for each in over.problems] == [
        ("bad_file", "The file has more than 200 lines; a roster has fewer.")
    ]


@pytest.mark.parametrize(
    ("columns", "whole"),
    [
        (("name", "number"), True),
        ((None, "number", "passing", "name"), True),
        (("name", None), False),
        (("number",), False),
        ((), False),
    ],
)
def test_a_table_is_whole_with_name_and_number(
    columns: tuple[str | None, ...], whole: bool
) -> None:
    assert Matching(columns).is_whole is whole


def test_headings_are_clear_where_each_has_its_column() -> None:
    def clear(heads: str) -> bool:
        return table_of(f"{heads}\r\nIda,7,1\r\n").is_clear

    assert clear("name,number,passing")
    assert clear("name,number,"), "an empty heading names nothing"
    assert not clear("name,number,shoe size")
    assert not clear("name,passing,speed")


def test_an_example_is_the_first_texts_below_the_heading() -> None:
    rows = ["Ida,7", ",8", "Noor", "Mia,9", f"{'x' * 61},10"]
    table = table_of("\r\n".join(("name,number", *rows)))
    assert table.example(0) == ("Ida", "Noor", "Mia")
    assert table.example(0, most=9) == ("Ida", "Noor", "Mia", "x" * 60)
    assert table.example(1, most=2) == ("7", "8")
    assert table.example(1, headed=False) == ("number", "7", "8")
    assert table.example(2) == ()
