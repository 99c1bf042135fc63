"""Which tests speak for a module: those that mirror it first, then those that import it.

For what runs when the module is loaded; a function has the tests that run it (``record``).
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
CORES: Final = ("shared/core", "plays/core", "roster/core", "practice/core")
NEAR: Final = 2  # imports between a test and the module, at most


def modules() -> list[str]:
    """The modules of all cores, by their paths."""
    return sorted(_inside(path) for core in CORES for path in (ROOT / core).rglob("*.py"))


def tests(begin: tuple[str, ...]) -> list[str]:
    """The test files of the cores: these alone are asked, tests of pages are not."""
    return [each for each in _tests() if each.startswith(begin)]


def helpers() -> list[str]:
    """What tests of the cores lean on beside the cores: other Python files among the tests."""
    found = {_inside(path) for path in (ROOT / "tests").rglob("*.py")}
    return sorted(each for each in found if not Path(each).name.startswith("test_"))


@cache
def stages(path: str) -> tuple[tuple[str, ...], ...]:
    """The test files of a module, in the order in which they are tried.

    Its own file and its folder come first; then what reaches it by few imports, the nearest
    first.
    """
    mirrored = [each for each in _tests() if _mirrors(each, path)]
    mirrored.sort(key=lambda each: not each.endswith(f"test_{Path(path).name}"))
    far = {each: _distance(each, path) for each in _tests() if each not in set(mirrored)}
    near = sorted((each for each in far if far[each] <= NEAR), key=lambda each: (far[each], each))
    return tuple(tuple(each) for each in (mirrored, near) if each)


def _mirrors(test: str, path: str) -> bool:
    folder = Path("tests", path).parent
    own = f"{Path(path).parent}/test_{Path(path).name}"
    return Path(test).parent == folder or test.endswith(own)


def _distance(test: str, path: str) -> int:
    """How many imports lie between a test and a module; more than `NEAR` where none lead there."""
    reached = {test}
    for steps in range(1, NEAR + 1):
        reached = {each for one in reached for each in _imports(one)}
        if path in reached:
            return steps
    return NEAR + 1


@cache
def _tests() -> tuple[str, ...]:
    found = (_inside(path) for path in (ROOT / "tests").rglob("core/**/test_*.py"))
    return tuple(sorted(found))


@cache
def _imports(path: str) -> frozenset[str]:
    tree = ast.parse((ROOT / path).read_text("utf-8"))
    return frozenset(each for name in _names(tree) for each in _file_of(name))


def _names(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def _file_of(name: str) -> Iterator[str]:
    path = Path(*name.split(".")).with_suffix(".py")
    if (ROOT / path).exists():
        yield path.as_posix()


def _inside(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()
