"""A run of the tests tells which function each of them gets to, and how long it takes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from coachbook.mutation.record import Only, Record, Recorder
from shared.core.numbers import whole_number

FUNCTION = ("shared/core/numbers.py", "whole_number")


def test_a_recorder_sees_the_functions_of_cores_that_a_test_runs(
    tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    recorder = Recorder(tmp_path / "record.json")
    run = recorder.pytest_runtest_protocol(request.node)
    next(run)
    assert whole_number("12") == 12
    with pytest.raises(StopIteration):
        next(run)
    recorder.pytest_sessionfinish()
    assert Record.read(tmp_path / "record.json").tests[FUNCTION] == (request.node.nodeid,)


def test_the_quickest_test_of_a_function_comes_first(tmp_path: Path) -> None:
    told = {
        "ran": {"a.py::slow": [FUNCTION], "a.py::quick": [FUNCTION], "b.py::other": []},
        "seconds": {"a.py::slow": 2.0, "a.py::quick": 0.5, "b.py::other": 4.0},
    }
    (tmp_path / "record.json").write_text(json.dumps(told), "utf-8")
    record = Record.read(tmp_path / "record.json")
    assert record.tests == {FUNCTION: ("a.py::quick", "a.py::slow")}
    assert record.all_seconds(["a.py"]) == 2.5
    assert record.all_seconds(["a.py::slow", "b.py"]) == 6.0


def test_only_the_tests_asked_for_run_and_in_that_order(request: pytest.FixtureRequest) -> None:
    items = list(request.session.items)
    wanted = [items[-1].nodeid, items[0].nodeid]
    Only(wanted).pytest_collection_modifyitems(items)
    assert [item.nodeid for item in items] == list(dict.fromkeys(wanted))
