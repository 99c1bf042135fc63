"""Calls: roles in braces become names, and two of one name are told apart."""

from __future__ import annotations

import pytest

from plays.core.calls import CallName, call_for, faulty_braces, placeholders, told_apart
from plays.core.play import Role
from shared.core.language import ENGLISH

CAST: dict[Role, CallName] = {
    "1": CallName("Ida", "7"),
    "2": CallName("Mo", "4"),
    "4": CallName("ida ", "12"),
    "5": CallName("Noor"),
}


@pytest.mark.parametrize(
    ("call", "heard"),
    [
        ("Lantern {5}", "Lantern Noor"),
        ("{2} and {5}", "Mo and Noor"),
        ("Lantern {1}", "Lantern Ida (7)"),
        ("{4}, {4}!", "ida (12), ida (12)!"),
        ("Lantern {3}", "Lantern 3"),
        ("Lantern", "Lantern"),
        ("{ 5 } now", "Noor now"),
        ("{5} {6} {x} {", "Noor {6} {x} {"),
    ],
)
def test_a_call_is_heard_with_names(call: str, heard: str) -> None:
    assert call_for(call, CAST, ENGLISH) == heard


def test_two_with_one_name_and_no_numbers_are_told_apart_by_role() -> None:
    cast: dict[Role, CallName] = {"1": CallName("Ida"), "4": CallName("Ida")}
    assert call_for("{1} {4}", cast, ENGLISH) == "Ida (1) Ida (4)"
    same: dict[Role, CallName] = {"1": CallName("Ida", "7"), "4": CallName("Ida", "7")}
    assert call_for("{1} {4}", same, ENGLISH) == "Ida (7, role 1) Ida (7, role 4)"
    loud: dict[Role, CallName] = {"4": CallName("Ida"), "5": CallName("IDA")}
    assert call_for("{4} and {5}", loud, ENGLISH) == "Ida (4) and IDA (5)"


def test_a_name_is_no_call_and_a_blank_one_is_no_name() -> None:
    assert call_for("{5}", {"5": CallName("{4}"), "4": CallName("Bo")}, ENGLISH) == "{4}"
    assert call_for("{5}", {"5": CallName(" ")}, ENGLISH) == "5"


def test_names_of_a_whole_team_are_told_apart() -> None:
    team = {1: CallName("Jo", "5"), 2: CallName("Jo  ", "6"), 3: CallName("Al", "8")}
    assert told_apart(team, ENGLISH) == {1: "Jo (5)", 2: "Jo (6)", 3: "Al"}


def test_placeholders_and_braces() -> None:
    assert placeholders("A {5} b {x}{}") == ("5", "x", "")
    assert not faulty_braces("A {5}")
    assert all(faulty_braces(call) for call in ("A {5", "A 5}", "{{5}", "}{"))
