"""The table of the security standard: whole in its chapters, and true in the names it gives."""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

import pytest

from coachbook.help.pages import DOCS
from tests.coachbook.help.test_attacks import NAMED, functions

ROOT = Path(__file__).resolve().parents[3]
FILE = re.compile(r"`([\w./-]+/[\w.-]+|[\w-]+\.(?:md|in|txt))`")
CHAPTERS = range(1, 18)
STATES = {"met", "partly", "not met", "not applicable"}


class Group(NamedTuple):
    number: str
    asks: str
    state: str
    shown: str


def groups() -> list[Group]:
    text = (DOCS / "10e-standard.md").read_text("utf-8")
    rows = [line.strip("| ").split(" | ") for line in text.splitlines() if line.startswith("| V")]
    return [Group(*row) for row in rows]


def test_every_chapter_is_there_and_each_group_once() -> None:
    numbers = [each.number for each in groups()]
    assert len(set(numbers)) == len(numbers)
    assert {int(number[1:].split(".")[0]) for number in numbers} == set(CHAPTERS)


@pytest.mark.parametrize("group", groups(), ids=lambda each: each.number)
def test_what_is_said_is_shown(group: Group) -> None:
    assert group.state in STATES
    tests = NAMED.findall(group.shown)
    files = [name for name in FILE.findall(group.shown) if "::" not in name]
    assert [test for path, test in tests if test not in functions(path)] == []
    assert [name for name in files if not (ROOT / name).is_file()] == []
    if group.state in {"met", "partly"}:
        assert tests or files
    if group.state == "partly":
        assert ";" in group.shown  # what holds; what is missing
