"""The house stands as drawn: cores are pure, and arrows point one way."""

from __future__ import annotations

import ast
import subprocess
import sys
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
ORDER = ("shared", "plays", "roster", "practice", "coachbook")  # each may lean on those before it
CORES = sorted(path for app in ORDER for path in (ROOT / app / "core").rglob("*.py"))
MODULES = sorted(
    path for app in ORDER for path in (ROOT / app).rglob("*.py") if "migrations" not in path.parts
)
# What a core may import beyond the standard library, its own and lower cores.
COMPUTING = {"numpy", "scipy"}
WRITERS = {"PIL", "reportlab"}  # in shared.core's writers, and where pages are laid out
ALLOWED = {
    "plays/core/document/file.py": {"pydantic", "pydantic_core"},
    "practice/core/dates/feed.py": {"icalendar"},
    "practice/core/dates/zone.py": {"icalendar"},
    "roster/core/quiz/spacing.py": {"fsrs"},
    "practice/core/dates/repeats.py": {"dateutil"},
}
# Every package of the house, each after those that it may lean on. "wiring" is what ties an app
# together (urls and apps), the bare name of an app what stands beside its packages.
PACKAGES = (
    "shared.core.drawing",
    "shared.core",
    "shared",
    "shared.templatetags",
    "shared.wiring",
    "plays.core",
    "plays.core.court",
    "plays.core.sequence",
    "plays.core.document",
    "plays.core.shorthand",
    "plays.core.motion",
    "plays.core.editing",
    "plays.core.words",
    "plays.core.moves",
    "plays.core.defence",
    "plays.core.check",
    "plays.core.tune",
    "plays.core.drawing",
    "plays.core.glossary",
    "plays",
    "plays.library",
    "plays.play",
    "plays.files",
    "plays.sharing",
    "plays.check",
    "plays.tuning",
    "plays.writing",
    "plays.editor",
    "plays.starts",
    "plays.wiring",
    "roster.core",
    "roster.core.casting",
    "roster.core.coverage",
    "roster.core.file",
    "roster.core.paper",
    "roster.core.quiz",
    "roster.models",
    "roster",
    "roster.cast",
    "roster.package",
    "roster.squad",
    "roster.coverage",
    "roster.sheets",
    "roster.quiz",
    "roster.player",
    "roster.wiring",
    "practice.core",
    "practice.core.dates",
    "practice.core.reps",
    "practice.core.plan",
    "practice.core.readiness",
    "practice.core.install",
    "practice.core.learning",
    "practice.core.choosing",
    "practice.core.calls",
    "practice.models",
    "practice",
    "practice.drills",
    "practice.opponents",
    "practice.reps",
    "practice.film",
    "practice.games",
    "practice.plan",
    "practice.install",
    "practice.choosing",
    "practice.learned",
    "practice.readiness",
    "practice.calls",
    "practice.dates",
    "practice.today",
    "practice.privacy",
    "practice.season",
    "practice.wiring",
    "coachbook",
    "coachbook.wiring",
)
UNCERTAIN = {"time", "random", "secrets"}  # clock and chance come in as arguments


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


@cache
def imported(path: Path) -> frozenset[str]:
    """The modules that a file imports, with their dotted names."""
    found: set[str] = set()
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            found.add(node.module)
    return frozenset(found)


def inside(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def test_arrows_point_one_way() -> None:
    wrong = {
        (inside(path), name)
        for path in MODULES
        for name in imported(path)
        if name.split(".")[0] in ORDER[ORDER.index(path.relative_to(ROOT).parts[0]) + 1 :]
    }
    assert not wrong


def package(module: str) -> str:
    """The package that a module belongs to, by its dotted name."""
    parts = module.split(".")
    if parts[-1] in {"urls", "apps"}:
        return f"{parts[0]}.wiring"
    if parts[0] == "coachbook":
        return "coachbook"
    folder = ROOT.joinpath(*parts)
    return module if folder.is_dir() else ".".join(parts[:-1])


def arrows() -> dict[str, set[str]]:
    """Which package imports which, read from the sources."""
    found: dict[str, set[str]] = {}
    for path in MODULES:
        here = package(inside(path)[:-3].replace("/", ".").removesuffix(".__init__"))
        targets = {package(name) for name in imported(path) if name.split(".")[0] in ORDER}
        found.setdefault(here, set()).update(targets - {here})
    return found


def test_packages_lean_only_on_those_before_them() -> None:
    found = arrows()
    assert set(found) == set(PACKAGES)
    place = {name: number for number, name in enumerate(PACKAGES)}
    back = {
        (one, other)
        for one, others in found.items()
        for other in others
        if place[other] > place[one]
    }
    assert not back


def test_a_core_is_plain_python() -> None:
    every = {(inside(path), name) for path in CORES for name in imported(path)}
    assert not {(path, name) for path, name in every if not may_import(path, name)}


def may_import(path: str, name: str) -> bool:
    """Whether a module of a core may import another."""
    app, top = path.partition("/")[0], name.partition(".")[0]
    cores = {f"{each}.core" for each in ORDER[: ORDER.index(app) + 1]}
    if any(name == core or name.startswith(f"{core}.") for core in cores):
        return True
    may = COMPUTING | WRITERS | ALLOWED.get(path, set()) | sys.stdlib_module_names
    return top in may - UNCERTAIN


def test_cores_load_without_django() -> None:
    names = [inside(path)[:-3].replace("/", ".") for path in CORES]
    code = (
        f"import sys, importlib\nfor name in {names!r}: importlib.import_module(name)\n"
        "assert not any(name.split('.')[0] == 'django' for name in sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=ROOT)


LONG = 300  # lines
WHY_LONG = "\nLong since "  # how the head of a longer module begins to say why it is one subject


def test_a_long_module_says_why_it_is_one() -> None:
    """Above the length split it, or say why at its head; below it there is nothing to say."""
    lines = {path: path.read_text("utf-8").count("\n") for path in MODULES}
    saying = {path for path in MODULES if WHY_LONG in (ast.get_docstring(tree(path)) or "")}
    assert {
        inside(path): lines[path] for path in saying ^ {p for p in MODULES if lines[p] > LONG}
    } == {}


def test_one_class_name_is_one_thing() -> None:
    """A value of a core and the row or choice that keeps it may share a name; nothing else."""
    places: dict[str, list[str]] = {}
    for path in MODULES:
        for node in tree(path).body:
            if isinstance(node, ast.ClassDef) and node.name != "Command":
                places.setdefault(node.name, []).append(inside(path))
    shared = {name: found for name, found in places.items() if len(found) > 1}
    pairs = {
        name
        for name, found in shared.items()
        if len(found) == 2
        and sum("/core/" in place for place in found) == 1
        and sum("/models" in place for place in found) == 1
    }
    assert set(shared) - pairs == set()
