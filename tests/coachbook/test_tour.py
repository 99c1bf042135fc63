"""The tour for contributors is true: what it names is there and does what it says."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "DEVELOPERS.md").read_text("utf-8")


@pytest.mark.parametrize(
    ("question", "path", "defines"),
    [
        ("Why is this look contested?", "plays/core/defence/verdict.py", "verdict"),
        ("Where is a tap stored?", "practice/reps/store.py", "store"),
        ("Who draws the screen bar?", "plays/core/drawing/screens.py", "bar_for"),
    ],
)
def test_three_questions_lead_to_what_answers_them(question: str, path: str, defines: str) -> None:
    said = re.sub(r"\s+", " ", TEXT)
    assert f"*{question}* `{path}`" in said
    body = ast.parse((ROOT / path).read_text("utf-8")).body
    assert defines in {node.name for node in body if isinstance(node, ast.FunctionDef)}


def test_every_file_that_is_named_is_there() -> None:
    named = set(re.findall(r"`((?:[a-z_]+/)+[a-z_]+\.(?:py|js|json))`", TEXT))
    assert len(named) > 20
    assert {path for path in named if not (ROOT / path).is_file()} == set()


def test_every_folder_of_the_core_of_plays_is_in_the_table() -> None:
    table = TEXT.partition("| folder of `plays/core` |")[2].partition("\n\n")[0]
    told = set(re.findall(r"^\| `([a-z_]+)(?:\.py)?` \|", table, flags=re.MULTILINE))
    core = ROOT / "plays" / "core"
    folders = {path.name for path in core.iterdir() if (path / "__init__.py").exists()}
    assert folders <= told
    assert {name for name in told if not (core / name).is_dir()} == {"play"}
