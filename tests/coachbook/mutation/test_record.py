"""A run of the tests tells which block each of them gets to, and how long it takes."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from coachbook.mutation import reach, record
from coachbook.mutation.marks import NAME, Block, Marks
from coachbook.mutation.mutators import Mutant, mutants
from coachbook.mutation.record import Kept, Only, Ran, Record

PATH = "shared/core/numbers.py"
TEXT = """\
LEAST = 3

def f(a, b=2):
    "Says something."
    if a < b:
        return 1
    return 0
"""
OUTER, INNER = (PATH, 4), (PATH, 6)  # where the function's body and the branch begin


def test_a_mark_tells_each_block_that_ran_and_once() -> None:
    marks = Marks({PATH: ast.parse(TEXT)})
    names: dict[str, object] = {NAME: marks.ran}
    exec(marks.loaders[PATH].code, names)
    function = names["f"]
    assert callable(function)
    assert function.__doc__ == "Says something."
    assert marks.take() == []
    assert [function(3), marks.take(), marks.take()] == [0, [OUTER], []]
    assert [function(1), marks.take()] == [1, [OUTER, INNER]]


def test_the_blocks_of_marks_are_those_that_mutants_name() -> None:
    """All cores: no mutant waits for a block that nobody marks."""
    trees = {path: ast.parse((reach.ROOT / path).read_text("utf-8")) for path in reach.modules()}
    named = {(p, m.block) for p, tree in trees.items() for m in mutants(p, tree) if m.block}
    assert named <= set(Marks(trees).blocks)


def told(**tests: tuple[float, list[Block]]) -> Record:
    return Record(
        {
            f"tests/shared/core/test_{name}.py::test": Ran(seconds, frozenset(blocks))
            for name, (seconds, blocks) in tests.items()
        }
    )


def mutant(line: int) -> Mutant:
    return next(each for each in mutants(PATH, ast.parse(TEXT)) if each.line == line)


def names(tests: tuple[str, ...]) -> list[str]:
    return [
        test.removeprefix("tests/shared/core/test_").removesuffix(".py::test") for test in tests
    ]


def test_a_mutant_is_met_by_the_quickest_tests_that_get_to_its_block() -> None:
    record = told(slow=(2.0, [OUTER, INNER]), quick=(0.5, [OUTER]), numbers=(2.4, [OUTER]))
    # A test that mirrors the module goes before others of a fifth of its time.
    assert names(record.plan(mutant(5), 60.0)) == ["numbers", "quick", "slow"]
    assert names(record.plan(mutant(5), 3.0)) == ["numbers", "quick"]
    assert names(record.plan(mutant(5), 0.1)) == ["numbers"]


def test_what_hardly_a_test_runs_is_met_by_the_tests_of_its_module() -> None:
    """What is computed once and kept is put down to whichever test came first."""
    first = told(slow=(2.0, [OUTER, INNER]), quick=(0.5, [OUTER]), numbers=(2.4, [OUTER]))
    assert names(first.plan(mutant(6), 60.0)) == ["numbers", "quick", "slow"]
    often = {f"often{n}": (1.0 + n, [OUTER, INNER]) for n in range(3)}
    assert names(told(**often, quick=(0.5, [OUTER])).plan(mutant(6), 60.0)) == list(often)


def test_a_default_belongs_to_its_function_and_a_constant_to_the_module() -> None:
    record = told(numbers=(1.0, []), other=(0.5, [INNER]), far=(0.5, []))
    assert mutant(3).block == OUTER[1]
    assert mutant(1).block == 0
    assert names(record.plan(mutant(1), 60.0)) == ["numbers", "other"]


def test_only_the_tests_asked_for_run_and_in_that_order(request: pytest.FixtureRequest) -> None:
    items = list(request.session.items)
    wanted = [items[-1].nodeid, items[0].nodeid]
    Only(wanted).pytest_collection_modifyitems(items)
    assert [item.nodeid for item in items] == list(dict.fromkeys(wanted))


def test_what_was_recorded_stands_until_a_core_or_the_test_file_changes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    core, test = "shared/core/numbers.py", "tests/shared/core/test_numbers.py"
    for path in (core, test):
        (tmp_path / path).parent.mkdir(parents=True)
        (tmp_path / path).write_text("a = 1", "utf-8")
    monkeypatch.setattr(reach, "ROOT", tmp_path)
    kept_in, run = tmp_path / "cache" / "record.json", tmp_path / "run.json"
    run.write_text(f'{{"{test}::test_a": [0.5, [["{core}", 4]]]}}', "utf-8")
    kept = Kept.read(kept_in)
    assert kept.stale([test]) == [test]
    kept.take([test], run)
    kept.write(kept_in)
    again = Kept.read(kept_in)
    assert again.stale([test]) == []
    assert again.record([test]).tests == {f"{test}::test_a": Ran(0.5, frozenset([(core, 4)]))}
    (tmp_path / test).write_text("a = 2", "utf-8")
    assert again.stale([test]) == [test]
    (tmp_path / core).write_text("a = 3", "utf-8")
    assert Kept.read(kept_in).files == {}


def test_a_run_is_written_with_what_each_test_ran(
    tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    marks = Marks({PATH: ast.parse(TEXT)})
    recorder = record.Recorder(tmp_path / "record.json", marks)
    run = recorder.pytest_runtest_protocol(request.node)
    next(run)
    marks.ran[0] = 1
    with pytest.raises(StopIteration):
        next(run)
    recorder.seconds[request.node.nodeid] = 0.5
    recorder.pytest_sessionfinish()
    kept = Kept("")
    kept.take([], tmp_path / "record.json")
    assert kept.record([request.node.nodeid.split("::")[0]]).tests == {
        request.node.nodeid: Ran(0.5, frozenset([OUTER]))
    }
