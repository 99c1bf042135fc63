"""A file brought back changes those who are known; a list without separators is a table, too."""

from __future__ import annotations

import pytest

from roster.core.file.known import known_players
from roster.core.file.roster import read_roster
from roster.core.file.table import Matching, table_of
from roster.core.file.text import BadTableError

HERE = (("Ida", "4"), ("Bo", "7"), ("Mia", "8"), ("Mia", "9"))


def meant(*rows: tuple[str, str]) -> list[tuple[str, str] | None]:
    return list(known_players([{"name": name, "number": number} for name, number in rows], HERE))


def test_name_and_number_tell_somebody_whatever_the_case_and_accents() -> None:
    assert meant(("IDA", "4"), ("bó", "7"), ("Mia", "9")) == [HERE[0], HERE[1], HERE[3]]


def test_a_name_that_one_here_bears_is_enough_when_the_number_is_another() -> None:
    assert meant(("Ida", "14")) == [HERE[0]]
    assert meant(("Ida", "7"), ("Bo", "4")) == [HERE[0], HERE[1]]


def test_two_of_a_name_are_not_guessed_at() -> None:
    assert meant(("Mia", "10")) == [None]
    assert meant(("Ida", "14"), ("Ida", "15")) == [None, None]
    # One is known by her number, so the other must be the other.
    assert meant(("Mia", "8"), ("Mia", "10")) == [HERE[2], HERE[3]]


def test_a_number_alone_means_nobody() -> None:
    assert meant(("Runa", "4")) == [None]


def test_two_who_change_shirts_are_no_clash_and_a_third_is() -> None:
    assert not read_roster("name,number\nIda,7\nBo,4\n", HERE).problems
    (problem,) = read_roster("name,number\nIda,7\n", HERE).problems
    assert problem.code == "number_taken"


@pytest.mark.parametrize("text", ["4 Ida\n12 Bo Li\n", "#4 Ida\n#12 Bo Li", "Ida 4\n\nBo Li 12"])
def test_a_plain_list_is_a_name_and_a_number_in_each_line(text: str) -> None:
    players = read_roster(text).players
    assert [(player.name, player.number) for player in players] == [("Ida", "4"), ("Bo Li", "12")]


def test_a_list_with_a_line_that_is_none_is_not_taken_for_one() -> None:
    assert not read_roster("4 Ida\nand more\n").players


def test_columns_are_what_a_person_says_and_the_first_line_may_be_a_player() -> None:
    text = "Runa;Berg;21;171\nSol;Dahl;22;168\n"
    table = table_of(text)
    assert not table.guess().is_whole
    assert not table.is_clear
    said = Matching(("name", None, "number", "height_cm"), headed=False)
    found = read_roster(text, matching=said)
    assert [(p.name, p.number, p.height_cm) for p in found.players] == [
        ("Runa", "21", 171),
        ("Sol", "22", 168),
    ]
    assert table.example(1, headed=False) == ("Berg", "Dahl")


def test_nothing_pasted_is_nothing() -> None:
    with pytest.raises(BadTableError):
        table_of(" \n \n")


@pytest.mark.parametrize(
    ("text", "headed"),
    [
        ("Voornaam;Rugnummer;Plaats\nTuva;31;1\nYrsa;32;", True),
        ("Tuva;31;171\nYrsa;32;168", False),
        ("Tuva;;171\nYrsa;32;168", False),  # the first has no number yet
        ("Tuva;G\nYrsa;F", False),  # nobody has a figure
        ("Tuva;none\nYrsa;32\nBo;none", False),  # a word where another has a word, too
        ("Voornaam;Rugnummer", False),  # nothing below
    ],
)
def test_a_word_above_nothing_but_figures_is_a_heading(text: str, headed: bool) -> None:
    assert table_of(text).guess().headed is headed
