"""Which test runs which function of the cores, and for how long: read off one run of the tests.

A mutant inside a function can be noticed only by a test that gets there; to run those alone,
the quickest first, is what makes a sample of hundreds bearable.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Generator, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, FrameType
from typing import Final

import pytest

from coachbook.mutation.reach import CORES, ROOT

PREFIXES: Final = tuple(f"{ROOT}/{core}/" for core in CORES)

Function = tuple[str, str]  # path of the module, and name of the function with its class


class Recorder:
    """A pytest plugin that writes what each test ran, and its seconds, into a file."""

    def __init__(self, into: Path) -> None:
        self.into = into
        self.ran: dict[str, list[Function]] = {}
        self.seconds: dict[str, float] = {}

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None]:
        """From fixtures to teardown: what a fixture runs, its test notices too."""
        seen: set[CodeType] = set()

        def called(frame: FrameType, *_: object) -> None:
            seen.add(frame.f_code)

        sys.settrace(called)
        try:
            yield
        finally:
            sys.settrace(None)
        self.ran[item.nodeid] = sorted({each for code in seen for each in _of_core(code)})

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.seconds[report.nodeid] = self.seconds.get(report.nodeid, 0.0) + report.duration

    def pytest_sessionfinish(self) -> None:
        self.into.write_text(json.dumps({"ran": self.ran, "seconds": self.seconds}), "utf-8")


class Only:
    """A pytest plugin that runs some tests alone, in the order given."""

    def __init__(self, tests: Iterable[str]) -> None:
        self.place = {test: number for number, test in enumerate(tests)}

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        kept = [item for item in items if item.nodeid in self.place]
        items[:] = sorted(kept, key=lambda item: self.place[item.nodeid])


@dataclass(frozen=True, slots=True)
class Record:
    """What a run told: the tests of each function, and the seconds of each test."""

    tests: Mapping[Function, tuple[str, ...]]
    seconds: Mapping[str, float]

    @classmethod
    def read(cls, path: Path) -> Record:
        told = json.loads(path.read_text("utf-8"))
        seconds: dict[str, float] = told["seconds"]
        found: dict[Function, list[str]] = {}
        for test, functions in told["ran"].items():
            for module, name in functions:
                found.setdefault((module, name), []).append(test)
        return cls(
            {
                function: tuple(sorted(tests, key=lambda test: (seconds.get(test, 0.0), test)))
                for function, tests in found.items()
            },
            seconds,
        )

    def all_seconds(self, tests: Iterable[str]) -> float:
        """How long tests took together; files are told by their names without "::"."""
        wanted = set(tests)
        return sum(
            seconds
            for test, seconds in self.seconds.items()
            if test in wanted or test.split("::")[0] in wanted
        )


def _of_core(code: CodeType) -> Iterable[Function]:
    if code.co_filename.startswith(PREFIXES):
        path = Path(code.co_filename).relative_to(ROOT).as_posix()
        yield path, code.co_qualname.split(".<locals>")[0]
