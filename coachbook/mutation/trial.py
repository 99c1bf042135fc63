"""Runs tests with one module changed in memory: in a forked process, so that nothing stays.

The parent has imported the libraries and none of the project; each child imports the project
anew, with the changed module in its place. Nothing is written into the tree.
"""

from __future__ import annotations

import math
import os
import resource
import signal
import sys
import tempfile
from collections.abc import Iterable
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, SourceFileLoader
from importlib.util import spec_from_file_location
from pathlib import Path
from types import CodeType, ModuleType
from typing import Final

import pytest

from coachbook.mutation.reach import ROOT

OPTIONS: Final = (
    *("-x", "-q", "-p", "no:xdist", "-p", "no:randomly", "-m", "not browser and not alone"),
    *("-W", "ignore::pytest.PytestAssertRewriteWarning"),  # they are imported before the fork
)
PATIENCE: Final = 5  # seconds of the wall clock to one of the processor, for what waits for ever
MEMORY: Final = 4 << 30  # bytes


class Changed(SourceFileLoader):
    """Loads a module from code in memory."""

    def __init__(self, name: str, path: str, code: CodeType) -> None:
        super().__init__(name, path)
        self.code = code

    def get_code(self, fullname: str) -> CodeType:  # noqa: ARG002 - asked for one module only
        return self.code


class Instead(MetaPathFinder):
    """Finds one module by its name, and gives the changed code."""

    def __init__(self, path: str, code: CodeType) -> None:
        self.name = path.removesuffix(".py").replace("/", ".")
        self.loader = Changed(self.name, str(ROOT / path), code)

    def find_spec(
        self,
        fullname: str,
        path: object,  # noqa: ARG002 - of the protocol of finders
        target: ModuleType | None = None,  # noqa: ARG002
    ) -> ModuleSpec | None:
        if fullname != self.name:
            return None
        return spec_from_file_location(fullname, self.loader.path, loader=self.loader)


def passes(
    files: Iterable[str],
    instead: Instead | None,
    scratch: Path,
    seconds: float,
    plugin: object = None,
    *,
    quiet: bool = False,
) -> bool:
    """Whether tests stay green; a run that takes more seconds of the processor does not."""
    child = os.fork()
    if child == 0:
        if quiet or instead is not None:
            _hush()
        failed = _in_child(files, instead, scratch, math.ceil(seconds), plugin)
        sys.stdout.flush()
        os._exit(failed)
    _, status = os.waitpid(child, 0)
    return status == 0


def _in_child(
    files: Iterable[str], instead: Instead | None, scratch: Path, seconds: int, plugin: object
) -> int:
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    signal.alarm(PATIENCE * seconds)
    sys.dont_write_bytecode = True
    tempfile.tempdir = str(scratch)
    if instead is not None:
        sys.meta_path.insert(0, instead)
    command = [*OPTIONS, "-o", f"cache_dir={scratch}/cache", *files]
    try:
        return int(pytest.main(command, plugins=None if plugin is None else [plugin]))
    except BaseException:
        return 1  # a mutant may throw anything, and is caught by it


def _hush() -> None:
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
