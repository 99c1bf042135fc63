"""Every command of the help pages is one that there is, and those of *Running it* are run."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

import pytest
from django.core.management import get_commands, load_command_class

from coachbook.benchmarks.courtside import free_port
from coachbook.bootstrap import DEV_COMMANDS
from coachbook.help.pages import DOCS

ROOT = Path(__file__).resolve().parents[3]
RUNNING = DOCS / "09c-running.md"
NOT_RUN = "Not run by our tests"
TEXTS = [*sorted(DOCS.glob("*.md")), ROOT / "README.md"]
PATIENCE = 90.0


class Shell(NamedTuple):
    """A block of commands, and the paragraph before it."""

    before: str
    lines: tuple[str, ...]


def shells() -> list[Shell]:
    parts = re.split(
        r"^```(\w*)\n(.*?)^```$", RUNNING.read_text("utf-8"), flags=re.MULTILINE | re.DOTALL
    )
    found = zip(parts[0::3], parts[1::3], parts[2::3], strict=False)
    return [
        Shell(text.strip().rsplit("\n\n", 1)[-1], tuple(block.splitlines()))
        for text, kind, block in found
        if kind == "sh"
    ]


RUN = [shell for shell in shells() if NOT_RUN not in shell.before]


def test_most_blocks_are_found_and_no_server_is_changed_by_a_test() -> None:
    assert len(shells()) == 9
    assert len(RUN) == 4
    assert not [line for shell in RUN for line in shell.lines if "sudo" in line]


@pytest.mark.parametrize("path", TEXTS, ids=lambda path: path.name)
def test_every_command_and_option_that_a_text_names_is_there(path: Path) -> None:
    for words in re.findall(r"manage\.py ([a-z_]+[^`\n]*)", path.read_text("utf-8")):
        name, *rest = shlex.split(words.split("  ")[0], comments=True)
        if name in DEV_COMMANDS:
            continue
        known = get_commands()
        assert name in known, words
        app = known[name]
        command = load_command_class(app, name) if isinstance(app, str) else app
        parser = command.create_parser("manage.py", name)
        options = {option for action in parser._actions for option in action.option_strings}
        assert {word for word in rest if word.startswith("--")} <= options, words


def here(line: str, folder: Path, port: int) -> str:
    """The line with this test's folder, port and interpreter, and nothing else changed."""
    line = line.replace("/srv/coachbook", str(folder)).replace("8000", str(port))
    return line.replace("python3 ", f"{sys.executable} ")


def settings(folder: Path) -> dict[str, str]:
    """Those of the unit that the page hands out."""
    clean = {k: v for k, v in os.environ.items() if not k.startswith(("COACHBOOK", "DJANGO"))}
    unit = (DOCS / "coachbook.service").read_text("utf-8")
    given = dict(re.findall(r"^Environment=(\w+)=(.*)$", unit, re.MULTILINE))
    given["COACHBOOK_HOSTS"] += ",127.0.0.1"
    given["COACHBOOK_HTTPS"] = "no"  # no proxy stands before it here
    return clean | {k: v.replace("/srv/coachbook", str(folder)) for k, v in given.items()}


@pytest.mark.skipif(os.name != "posix", reason="written for a shell of Linux")
def test_the_blocks_of_the_page_run_as_they_stand(tmp_path: Path) -> None:
    """In the page's order, in one home: what `start` serves is up while the next line runs."""
    port, environment = free_port(), settings(tmp_path)
    for shell in RUN:
        serving: subprocess.Popen[bytes] | None = None
        try:
            for line in shell.lines:
                command = here(line, tmp_path, port)
                if " start " in line:
                    serving = subprocess.Popen(
                        ["bash", "-c", f"exec env {command}"],
                        cwd=ROOT,
                        env=environment,
                        stdout=subprocess.DEVNULL,
                    )
                    await_health(port, serving)
                else:
                    done = subprocess.run(
                        ["bash", "-c", command],
                        cwd=ROOT,
                        env=environment,
                        capture_output=True,
                        text=True,
                        check=False,
                    )
                    assert done.returncode == 0, (line, done.stderr)
        finally:
            if serving is not None:
                serving.send_signal(signal.SIGTERM)
                assert serving.wait(PATIENCE) == 0


def await_health(port: int, serving: subprocess.Popen[bytes]) -> None:
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until:
        assert serving.poll() is None
        with (
            suppress(OSError),
            urllib.request.urlopen(f"http://127.0.0.1:{port}/health/", timeout=5) as answer,
        ):
            assert answer.status == 200
            return
        time.sleep(0.2)
    raise AssertionError("it does not answer")


@pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="there is no systemd")
def test_systemd_finds_nothing_wrong_with_the_unit(tmp_path: Path) -> None:
    """Its own judge, told where this test's account and program are."""
    text = (DOCS / "coachbook.service").read_text("utf-8")
    text = text.replace("User=coachbook", "User=root").replace("/srv/coachbook", str(tmp_path))
    (tmp_path / "app").mkdir()
    unit = tmp_path / "coachbook.service"
    unit.write_text(text, "utf-8")
    done = subprocess.run(
        ["systemd-analyze", "verify", "--man=no", str(unit)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert "coachbook.service" not in done.stderr, done.stderr
