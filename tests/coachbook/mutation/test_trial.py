"""Mutants are drawn by a seed, met by the tests that speak for them, and never written down."""

from __future__ import annotations

import ast
import os
import subprocess
import sys

from coachbook.mutation import reach
from coachbook.mutation.__main__ import drawn
from coachbook.mutation.trial import Instead


def test_a_module_is_held_first_by_the_tests_that_mirror_it() -> None:
    own, near = reach.stages("plays/core/check/space.py")
    assert own[0] == "tests/plays/core/check/test_space.py"
    assert all(each.startswith("tests/plays/core/check/") for each in own)
    assert not set(own) & set(near)
    assert "tests/plays/core/defence/test_verdict.py" in near  # imports closest()


def test_every_core_module_with_code_has_tests_that_speak_for_it() -> None:
    paths = [each for each in reach.modules() if not each.endswith("__init__.py")]
    assert [each for each in paths if not reach.stages(each)] == []


def test_the_same_seed_draws_the_same_sample() -> None:
    trees = {"m.py": ast.parse("\n".join(f"a{n} = {n} < {n + 1}" for n in range(30)))}
    one, again, other = (drawn(trees, seed, 20) for seed in (1, 1, 2))
    told = [[(each.line, each.steps) for each in sample] for sample in (one, again, other)]
    assert told[0] == told[1] != told[2]
    assert len(drawn(trees, 1, 10**6)) == 30 * 4


def test_a_changed_module_is_found_instead_of_its_file() -> None:
    code = compile("answer = 42", "shared/core/numbers.py", "exec")
    finder = Instead("shared/core/numbers.py", code)
    spec = finder.find_spec("shared.core.numbers", None)
    assert spec is not None
    assert finder.loader.get_code("shared.core.numbers") is code
    assert finder.find_spec("shared.core.days", None) is None


def command(*arguments: str) -> list[str]:
    """What the command says, run as a contributor does over the smallest core module."""
    ran = subprocess.run(
        [sys.executable, "-m", "coachbook.mutation", "--only", "shared/core/numbers", *arguments],
        cwd=reach.ROOT, env=os.environ | {"PYTEST_ADDOPTS": ""},
        check=True, capture_output=True, text=True,
    )  # fmt: skip
    return [line for line in ran.stdout.splitlines() if not line.startswith("Recording ")]


def test_tests_of_the_module_catch_its_mutants() -> None:
    said = command("--sample", "2", "--seed", "9", "--tests", "tests/shared/core/test_numbers")
    assert said[-1] == "2 of 2 mutants caught: 100.0 % (seed 9)"


def test_mutants_that_no_test_gets_to_are_told_as_alive() -> None:
    said = command("--sample", "2", "--seed", "9", "--tests", "tests/plays/core/court/test_courts")
    assert said[-1] == "0 of 2 mutants caught: 0.0 % (seed 9)"
    assert [line for line in said if ", 0 tests" in line and "shared/core/numbers.py:" in line]
