"""Every test that the list of attacks names is there, and those marked *alone* are so marked."""

from __future__ import annotations

import ast
import re
from functools import cache
from pathlib import Path
from typing import NamedTuple

from coachbook.help.pages import DOCS

ROOT = Path(__file__).resolve().parents[3]
NAMED = re.compile(r"`(tests/[\w/]+\.py)::(test_\w+)`")


class Line(NamedTuple):
    """What was tried, and the test."""

    tried: str
    path: str
    test: str


@cache
def lines() -> tuple[Line, ...]:
    rows = re.findall(r"^\| (.*?) \|.*\| (`tests.*`) \|$", text(), re.MULTILINE)
    return tuple(Line(tried, *NAMED.findall(name)[0]) for tried, name in rows)


def text() -> str:
    return (DOCS / "10d-attacks.md").read_text("utf-8")


@cache
def functions(path: str) -> dict[str, str]:
    """Each test of a file with the source of its marks, the file's own among them."""
    tree = ast.parse((ROOT / path).read_text("utf-8"))
    marks = [
        ast.unparse(node.value)
        for node in tree.body
        if isinstance(node, ast.Assign) and "pytestmark" in ast.unparse(node.targets[0])
    ]
    return {
        node.name: " ".join([*marks, *map(ast.unparse, node.decorator_list)])
        for node in tree.body
        if isinstance(node, ast.FunctionDef)
    }


def test_every_line_of_the_table_names_one_test() -> None:
    rows = [line for line in text().splitlines() if line.startswith("|")]
    assert len(lines()) == len(rows) - 2 > 40


def test_each_test_is_there() -> None:
    missing = [line for line in lines() if line.test not in functions(line.path)]
    assert missing == []


def test_what_takes_longer_says_so() -> None:
    wrong = [
        line.tried
        for line in lines()
        if ("*alone*" in line.tried) != ("alone" in functions(line.path)[line.test])
    ]
    assert wrong == []
