"""Runs the project in an environment of its own, and makes that environment first.

Only the standard library may be imported here: this is what runs on a machine that has
nothing but Python, pip and venv. The environment is made anew whenever the lock file has
changed, and only then, so a second start costs one comparison of two texts.
"""

from __future__ import annotations

import os
import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
ENVIRONMENT = ROOT / ".venv"
DEMO_DATA = ROOT / ".demo"
RUN_LOCK = ROOT / "requirements.txt"
DEV_LOCK = ROOT / "requirements-dev.txt"

# Commands that need the tools of a contributor, not only what runs the site.
DEV_COMMANDS = frozenset({"test", "mutate", "benchmark"})


def main(argv: list[str]) -> int:
    """Run a manage.py command line inside the project's environment; the exit status."""
    lock = DEV_LOCK if argv[1:2] and argv[1] in DEV_COMMANDS else RUN_LOCK
    if not is_ready(lock):
        _build(lock)
    if not _inside():
        return _again(argv)
    if argv[1:2] == ["test"]:
        return _test(argv[2:])
    if argv[1:2] == ["mutate"]:
        return _run("coachbook.mutation", argv[2:])
    return _django(argv)


def python() -> Path:
    """The interpreter of the environment, by the layout of this platform."""
    if os.name == "nt":
        return ENVIRONMENT / "Scripts" / "python.exe"
    return ENVIRONMENT / "bin" / "python"


def _inside() -> bool:
    return Path(sys.prefix).resolve() == ENVIRONMENT.resolve()


def _stamp(lock: Path) -> Path:
    return ENVIRONMENT / f"installed-{lock.name}"


def is_ready(lock: Path) -> bool:
    """Whether the environment holds what this lock, or the larger one, asks for."""
    wanted = {RUN_LOCK: (RUN_LOCK, DEV_LOCK), DEV_LOCK: (DEV_LOCK,)}[lock]
    return python().exists() and any(_matches(each) for each in wanted)


def _matches(lock: Path) -> bool:
    stamp = _stamp(lock)
    return stamp.exists() and stamp.read_text("utf-8") == lock.read_text("utf-8")


def _build(lock: Path) -> None:
    print(f"First run: making {ENVIRONMENT} and installing the libraries (once).", flush=True)  # noqa: T201 - said before any logging exists
    if not python().exists():
        venv.EnvBuilder(with_pip=True, clear=ENVIRONMENT.exists()).create(ENVIRONMENT)
    for old in ENVIRONMENT.glob("installed-*"):
        old.unlink()
    command = [
        *(str(python()), "-m", "pip", "install", "--disable-pip-version-check"),
        *("--progress-bar", "on", "--require-hashes", "-r", str(lock)),
    ]
    if subprocess.run(command, check=False).returncode:
        sys.exit(
            "The libraries could not be installed; the lines above say why. Most often the "
            "network is not reachable: mend that and run the same command again."
        )
    _stamp(lock).write_text(lock.read_text("utf-8"), "utf-8")


def _again(argv: list[str]) -> int:
    """Run the same command line with the environment's interpreter.

    In this very process, so that a signal to it ends the site; as a child on Windows, where
    exec returns to the prompt at once.
    """
    if os.name == "posix":
        os.execv(python(), [str(python()), *argv])  # noqa: S606 - our own interpreter, no shell
    try:
        return subprocess.run([str(python()), *argv], check=False).returncode
    except KeyboardInterrupt:
        return 0


def _test(arguments: list[str]) -> int:
    """The whole suite, on every core and then what must run by itself; or what is asked for."""
    together = [*("-m", "not alone"), *("-n", "auto"), *("--dist", "worksteal")]
    runs = [arguments] if arguments else [together, ["-m", "alone", *_files_of_alone()]]
    return max(_run("pytest", each) for each in runs)


def _files_of_alone() -> list[str]:
    """The test files that hold such tests: to read all others for a few tests takes its time."""
    files = sorted((ROOT / "tests").rglob("test_*.py"))
    return [str(file) for file in files if "mark.alone" in file.read_text("utf-8")]


def _run(module: str, arguments: list[str]) -> int:
    """Run a module that must come before Django and the project; its exit status.

    What Python compiles is kept whatever the shell says: a run starts the site over and over.
    """
    kept = {name: said for name, said in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    command = [sys.executable, "-m", module, *arguments]
    return subprocess.run(command, cwd=ROOT, env=kept, check=False).returncode


def _django(argv: list[str]) -> int:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "coachbook.settings")
    if argv[1:2] == ["demo"]:
        # Named before the settings are read, so that the demo never touches a real club.
        os.environ["COACHBOOK_DATA"] = str(DEMO_DATA)
    from django.core.management import execute_from_command_line  # noqa: PLC0415 - only there once built

    execute_from_command_line(argv)
    return 0
