"""A person and a role said in one breath: never two brackets side by side, or one in another."""

from __future__ import annotations

import re

import pytest

from coachbook.demo.files import demo_plays
from plays.core.calls import CallName, call_for, told_apart, with_role
from plays.core.check.check import check
from plays.core.play import ROLES, AgeGroup, Play
from plays.core.words.part import part_of
from shared.core.language import ENGLISH
from tests.languages import language

CLUTTERED = re.compile(r"\)\W?\(|\([^()]*\(|\)\)")
IDAS = {role: CallName("Ida", f"{role}7") for role in ROLES}


def test_a_number_and_a_role_share_the_brackets() -> None:
    assert with_role("Ida", "2", ENGLISH) == "Ida (2)"
    assert with_role("Ida (7)", "2", ENGLISH) == "Ida (7, role 2)"
    assert with_role("Ida (7)", "2", language("es")) == "Ida (7, puesto 2)"
    assert with_role("(7)", "2", ENGLISH) == "(7) (2)", "no name to stand before the brackets"


def test_a_call_of_two_with_one_name_and_number() -> None:
    twins = {"1": CallName("Ida", "7"), "2": CallName("ida", "7")}
    assert call_for("Lantern {2}", twins, ENGLISH) == "Lantern ida (7, role 2)"  # type: ignore[arg-type]


@pytest.mark.parametrize("code", ["en", "es"])
@pytest.mark.parametrize("play", list(demo_plays()), ids=lambda play: play.key)
def test_five_of_one_name_are_told_without_a_clutter_of_brackets(play: Play, code: str) -> None:
    spoken = language(code)
    names = told_apart(IDAS, spoken)
    said = [text for role in ROLES for text in part_of(play, role, names, spoken).sentences()]
    findings = check(play, age=AgeGroup.U14, names=names, language=spoken).findings
    said += [text for each in findings for text in (each.sentence, each.remedy) if text]
    assert any("(17, " in text for text in said)
    for text in said:
        assert not CLUTTERED.search(text), text
