"""Tries mutants in forks of one process that has loaded the project and collected its tests.

A mutant inside a function is that function with other code: put into the function that is
already loaded, it costs a fork and nothing else. What was computed from the function while
the modules were loaded stays as it was, so a survivor is tried again by loading all (``trial``).
"""

from __future__ import annotations

import ast
import gc
import os
import signal
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import CodeType, FunctionType
from typing import Final

import pytest
from _pytest.runner import runtestprotocol

from coachbook.mutation.mutators import Mutant
from coachbook.mutation.reach import ROOT
from coachbook.mutation.trial import PATIENCE

LEAST: Final = 10.0  # seconds of the processor that every test may take
SLOWER: Final = 5.0  # and this many times what it took when it was recorded
CAUGHT, ALIVE, NO_PLACE = 1, 0, 2

Place = tuple[str, str, int]  # file, name with the class, and first line of a function


@dataclass(frozen=True, slots=True)
class Plan:
    """A mutant with the tests that can notice it, in their order."""

    mutant: Mutant
    tests: tuple[str, ...]


class Nursery:
    """A pytest plugin that tries mutants instead of running the tests it has collected.

    Tells each plan as soon as it is known: its number, and how it ended, which is the status of
    a child, or minus a signal for a test that ran or waited too long.
    """

    def __init__(
        self,
        plans: Mapping[int, Plan],
        trees: Mapping[str, ast.Module],
        seconds: Mapping[str, float],
        processes: int,
        tell: Callable[[int, int], None],
    ) -> None:
        self.plans = plans
        self.trees = trees
        self.seconds = seconds
        self.processes = processes
        self.tell = tell

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.items = {item.nodeid: item for item in session.items}
        self.functions = _functions()
        gc.freeze()  # what the forks share is not copied by a collection of garbage
        for number, end in self._ends():
            self.tell(number, end)
        return True

    def _ends(self) -> Iterator[tuple[int, int]]:
        running: dict[int, int] = {}
        waiting = iter(self.plans.items())
        while True:
            while len(running) < self.processes and (following := next(waiting, None)):
                number, plan = following
                running[self._begin(plan)] = number
            if not running:
                return
            child, status = os.wait()
            yield running.pop(child), os.waitstatus_to_exitcode(status)

    def _begin(self, plan: Plan) -> int:
        sys.stdout.flush()
        child = os.fork()
        if child:
            return child
        try:
            if not self._put(plan.mutant):
                os._exit(NO_PLACE)
            os._exit(ALIVE if self._green(plan.tests) else CAUGHT)
        except BaseException:
            os._exit(CAUGHT)  # a mutant may throw anything, and is caught by it

    def _put(self, mutant: Mutant) -> bool:
        """Give the function its changed code; false where none is loaded, or it cannot take it."""
        tree = mutant.applied(self.trees[mutant.path])
        codes = _codes(compile(tree, str(ROOT / mutant.path), "exec"))
        wanted = [place for place in codes if place[1] == mutant.inside]
        loaded = [
            (each, codes[place]) for place in wanted for each in self.functions.get(place, ())
        ]
        try:
            for function, code in loaded:
                function.__code__ = code
        except ValueError:
            return False
        return bool(loaded)

    def _green(self, tests: tuple[str, ...]) -> bool:
        items = [self.items[test] for test in tests]
        for item, following in zip(items, [*items[1:], None], strict=True):
            limit = LEAST + SLOWER * self.seconds[item.nodeid]
            signal.setitimer(signal.ITIMER_PROF, limit)
            signal.setitimer(signal.ITIMER_REAL, PATIENCE * limit)
            reports = runtestprotocol(item, log=False, nextitem=following)
            if any(report.failed for report in reports):
                return False
        return True


def _functions() -> dict[Place, list[FunctionType]]:
    """The functions of the project that are loaded, by their place; gc finds decorated ones too."""
    found: dict[Place, list[FunctionType]] = {}
    for each in gc.get_objects():
        if isinstance(each, FunctionType) and each.__code__.co_filename.startswith(str(ROOT)):
            found.setdefault(_place(each.__code__), []).append(each)
    return found


def _codes(code: CodeType) -> dict[Place, CodeType]:
    """All code inside a module's code, by its place."""
    found: dict[Place, CodeType] = {}
    for each in code.co_consts:
        if isinstance(each, CodeType):
            found |= {_place(each): each} | _codes(each)
    return found


def _place(code: CodeType) -> Place:
    return code.co_filename, code.co_qualname, code.co_firstlineno
