"""Which test runs which block of the cores, and for how long: read off one run of the tests.

A mutant inside a function can be noticed only by a test that gets there; to run those alone,
the quickest first, is what makes a sample of hundreds bearable. What was recorded is kept in
`.mutation_cache` by the text of the cores and of each test file: a changed test file is
recorded anew by itself, a changed core means all.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Generator, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Final

import pytest

from coachbook.mutation import reach
from coachbook.mutation.marks import Block, Marks, watch
from coachbook.mutation.mutators import Mutant

KEPT: Final = reach.ROOT / ".mutation_cache" / "record.json"
OWN: Final = 0.2  # a test that mirrors the module goes before others that take five times less
FEW: Final = 2  # tests: what so few run may have been run for others too, and kept


@dataclass(frozen=True, slots=True)
class Ran:
    """What one test told: its seconds, and the blocks it got to."""

    seconds: float
    blocks: frozenset[Block]


class Recorder:
    """A pytest plugin that writes what each test ran, and its seconds, into a file."""

    def __init__(self, into: Path, marks: Marks | None = None) -> None:
        self.into = into
        self.marks = marks
        self.ran: dict[str, list[Block]] = {}
        self.seconds: dict[str, float] = {}

    @pytest.hookimpl(tryfirst=True)
    def pytest_cmdline_parse(self) -> None:
        """Before Django and the conftests load cores."""
        self.marks = watch()

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Generator[None]:
        """From fixtures to teardown: what a fixture runs, its test notices too."""
        assert self.marks is not None
        self.marks.take()
        yield
        self.ran[item.nodeid] = self.marks.take()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.seconds[report.nodeid] = self.seconds.get(report.nodeid, 0.0) + report.duration

    def pytest_sessionfinish(self) -> None:
        told = {test: [self.seconds[test], blocks] for test, blocks in self.ran.items()}
        self.into.write_text(json.dumps(told), "utf-8")


class Only:
    """A pytest plugin that runs some tests alone, in the order given."""

    def __init__(self, tests: Iterable[str]) -> None:
        self.place = {test: number for number, test in enumerate(tests)}

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        kept = [item for item in items if item.nodeid in self.place]
        items[:] = sorted(kept, key=lambda item: self.place[item.nodeid])


@dataclass(frozen=True)
class Record:
    """What the tests of the cores told, each by its name."""

    tests: Mapping[str, Ran]

    @cached_property
    def by_block(self) -> dict[Block, list[str]]:
        found: dict[Block, list[str]] = {}
        for test, ran in self.tests.items():
            for block in ran.blocks:
                found.setdefault(block, []).append(test)
        return found

    @cached_property
    def by_module(self) -> dict[str, set[str]]:
        found: dict[str, set[str]] = {}
        for (path, _line), tests in self.by_block.items():
            found.setdefault(path, set()).update(tests)
        return found

    def plan(self, mutant: Mutant, seconds: float) -> tuple[str, ...]:
        """The tests that can notice a mutant, the quickest first, as many as the seconds allow.

        What runs when a module is loaded has the tests that speak for it (``reach.stages``) and
        those that run anything in it. So has what hardly a test runs: what is computed once and
        kept is put down to the test that came first, or to none.
        """
        able = set(self.by_block.get((mutant.path, mutant.block), ()))
        if len(able) <= FEW:
            files = {file for stage in reach.stages(mutant.path) for file in stage}
            able |= {test for test in self.tests if test.split("::")[0] in files}
            able |= self.by_module.get(mutant.path, set())
        own = set(next(iter(reach.stages(mutant.path)), ()))
        return tuple(self._within(sorted(able, key=lambda test: self._turn(test, own)), seconds))

    def seconds_of(self, test: str) -> float:
        return self.tests[test].seconds

    def _turn(self, test: str, own: set[str]) -> tuple[float, str]:
        share = OWN if test.split("::", maxsplit=1)[0] in own else 1.0
        return share * self.seconds_of(test), test

    def _within(self, tests: list[str], seconds: float) -> Iterator[str]:
        for number, test in enumerate(tests):
            seconds -= self.seconds_of(test)
            if seconds < 0 and number:
                return
            yield test


@dataclass(slots=True)
class Kept:
    """The record as it lies in its file: the cores' digest, and each test file's with its tests."""

    base: str
    files: dict[str, str] = field(default_factory=dict)
    tests: dict[str, tuple[float, list[Block]]] = field(default_factory=dict)

    @classmethod
    def read(cls, path: Path = KEPT) -> Kept:
        """What was kept for the cores as they are; nothing where they have changed since."""
        base = _digest([*reach.modules(), *reach.helpers()])
        if path.exists():
            told = json.loads(path.read_text("utf-8"))
            if told["base"] == base:
                return cls(**told)
        return cls(base)

    def stale(self, files: Iterable[str]) -> list[str]:
        """The test files that were not recorded as they stand."""
        return [file for file in files if self.files.get(file) != _digest([file])]

    def take(self, files: list[str], told: Path) -> None:
        """Take over what a run of some files told."""
        new = set(files)
        old = {name: ran for name, ran in self.tests.items() if name.split("::")[0] not in new}
        self.tests = old | json.loads(told.read_text("utf-8"))
        self.files.update({file: _digest([file]) for file in files})

    def write(self, path: Path = KEPT) -> None:
        path.parent.mkdir(exist_ok=True)
        part = path.with_suffix(f".{os.getpid()}")
        told = {"base": self.base, "files": self.files, "tests": self.tests}
        part.write_text(json.dumps(told), "utf-8")
        part.replace(path)

    def record(self, files: Iterable[str]) -> Record:
        """What the tests of some files told."""
        wanted = set(files)
        return Record(
            {
                test: Ran(seconds, frozenset((path, line) for path, line in blocks))
                for test, (seconds, blocks) in self.tests.items()
                if test.split("::")[0] in wanted
            }
        )


def _digest(paths: Iterable[str]) -> str:
    digest = hashlib.sha256()
    for path in sorted(paths):
        digest.update(path.encode() + b"\0" + (reach.ROOT / path).read_bytes())
    return digest.hexdigest()
