"""The libraries: each has its reason and its turn, and what is installed is what is written."""

from __future__ import annotations

import re
from importlib import metadata
from pathlib import Path

import pytest

from coachbook.help.pages import DOCS

ROOT = Path(__file__).resolve().parents[3]
LOCKED = re.compile(
    r"^([a-zA-Z0-9._-]+)==([^\s;]+)((?:.*\\\n\s+--hash=sha256:[0-9a-f]{64})+)", re.MULTILINE
)


def plain(name: str) -> str:
    """A name as the index has it (PEP 503), without what is chosen of it in brackets."""
    return re.sub(r"[-_.]+", "-", name.partition("[")[0]).lower()


def asked_for() -> set[str]:
    lines = (ROOT / "requirements.in").read_text("utf-8").splitlines()
    return {plain(re.split(r"[~=<>]", line)[0]) for line in lines if line and line[0] != "#"}


def test_every_library_has_its_turn() -> None:
    """Those of the table of what is looked at first are in use, and each is in the house's own."""
    page = (DOCS / "10e-standard.md").read_text("utf-8")
    table = page.partition("| library | reads |")[2].partition("\n\n")[0]
    rows = re.findall(r"^\| ([\w, -]+) \|", table, re.MULTILINE)
    first = {plain(name) for row in rows for name in row.split(", ")}
    assert {"django", "waitress", "pillow", "openpyxl"} <= first <= asked_for()
    house = plain((ROOT / "DEVELOPERS.md").read_text("utf-8").partition("## Which library")[2])
    assert [name for name in asked_for() if name not in house] == []


def test_the_inventory_is_whole_and_each_file_has_its_hash() -> None:
    text = (ROOT / "requirements.txt").read_text("utf-8")
    pinned = [plain(name) for name, _version, _hashes in LOCKED.findall(text)]
    assert len(pinned) == len(re.findall(r"^[a-zA-Z0-9]", text, re.MULTILINE))
    assert asked_for() <= set(pinned)


@pytest.mark.parametrize("name", sorted(asked_for()))
def test_what_is_installed_is_what_is_written(name: str) -> None:
    """A library may stand there twice, for older and newer versions of Python."""
    text = (ROOT / "requirements.txt").read_text("utf-8")
    versions = {version for found, version, _ in LOCKED.findall(text) if plain(found) == name}
    assert metadata.version(name) in versions
