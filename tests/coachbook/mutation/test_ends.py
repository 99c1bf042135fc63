"""How mutants ended is kept at once, and forgotten when what it came from changes."""

from __future__ import annotations

import ast
from dataclasses import replace
from pathlib import Path

import pytest

from coachbook.mutation.ends import KnownEnds
from coachbook.mutation.mutators import mutants
from coachbook.mutation.nursery import ALIVE, CAUGHT, Plan
from coachbook.mutation.record import Kept

TESTS = ("tests/test_a.py::test_one", "tests/test_b.py::test_two")


@pytest.fixture
def kept() -> Kept:
    return Kept("cores", {"tests/test_a.py": "1", "tests/test_b.py": "2"})


def plans(text: str = "def f(a: int) -> bool:\n    return a < 3\n") -> list[Plan]:
    return [Plan(each, TESTS) for each in mutants("m.py", ast.parse(text))]


def test_an_end_is_known_to_the_next_run(kept: Kept, tmp_path: Path) -> None:
    first, second, *_ = plans()
    assert KnownEnds(kept, tmp_path / "ends").of(first) is None
    KnownEnds(kept, tmp_path / "ends").add(first, CAUGHT)
    KnownEnds(kept, tmp_path / "ends").add(second, ALIVE)
    later = KnownEnds(kept, tmp_path / "ends")
    assert (later.of(first), later.of(second)) == (CAUGHT, ALIVE)
    assert {later.of(each) for each in plans()[2:]} == {None}


def test_the_later_end_counts_and_a_line_broken_off_does_not(kept: Kept, tmp_path: Path) -> None:
    path = tmp_path / "ends"
    first = plans()[0]
    KnownEnds(kept, path).add(first, ALIVE)
    KnownEnds(kept, path).add(first, CAUGHT)
    path.write_text(path.read_text("utf-8") + '["abc', "utf-8")
    assert KnownEnds(kept, path).of(first) == CAUGHT


def test_no_end_outlives_what_it_came_from(kept: Kept, tmp_path: Path) -> None:
    path = tmp_path / "ends"
    first = plans()[0]
    KnownEnds(kept, path).add(first, ALIVE)
    other_cores = replace(kept, base="other cores")
    other_tests = replace(kept, files=kept.files | {"tests/test_b.py": "3"})
    assert KnownEnds(other_cores, path).of(first) is None
    assert KnownEnds(other_tests, path).of(first) is None
    assert KnownEnds(kept, path).of(replace(first, tests=TESTS[:1])) is None
