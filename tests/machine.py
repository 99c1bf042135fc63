"""What the machine of a test run has, and what a run leaves out for want of it.

A newcomer's machine may lack a browser or a reader of PDFs: what needs them is skipped, and the
end of the run says what was skipped and what would bring it. With ``COACHBOOK_TESTS=all``, as
in ``.ci/run``, a missing tool is a failure.
"""

from __future__ import annotations

import os
import re
import shutil
from collections import Counter
from pathlib import Path
from typing import Final

import pytest

PATH: Final = os.pathsep.join(
    (
        *(os.environ.get("PATH", ""), "/usr/sbin", "/usr/local/sbin"),
        *map(str, sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)),
    )
)
ALL: Final = os.environ.get("COACHBOOK_TESTS") == "all"

# Tool: the programs of which one must be there, and what brings it on Debian.
TOOLS: Final = {
    "chromium": (("chromium", "chromium-browser"), "apt-get install chromium"),
    "poppler": (("pdftotext",), "apt-get install poppler-utils"),
    "nginx": (("nginx",), "apt-get install nginx-light"),
    "openssl": (("openssl",), "apt-get install openssl"),
    "node": (("node",), "apt-get install nodejs"),
    "postgresql": (("initdb",), "apt-get install postgresql"),
}
_LACKS: Final = "this machine lacks "


def program(tool: str) -> str | None:
    """The path of a tool's program; None where the machine has none."""
    found = (shutil.which(name, path=PATH) for name in TOOLS[tool][0])
    return next((path for path in found if path), None)


def needs(*tools: str) -> pytest.MarkDecorator:
    """Marks a test that runs only where these tools are."""
    return pytest.mark.needs(*tools)


def tools_of(item: pytest.Item) -> tuple[str, ...]:
    """The tools that a test needs; a test in the browser needs Chromium."""
    named = [tool for mark in item.iter_markers("needs") for tool in mark.args]
    browser = ["chromium"] if item.get_closest_marker("browser") else []
    return tuple(dict.fromkeys([*named, *browser]))


def leave_out(item: pytest.Item) -> None:
    """Skip a test for want of its tools; a run that must see everything lets it fail."""
    missing = [tool for tool in tools_of(item) if program(tool) is None]
    if missing and not ALL:
        item.add_marker(pytest.mark.skip(reason=_LACKS + ", ".join(missing)))


def uses_database(item: pytest.Item) -> bool:
    """Whether a test asks for a database, by a mark or by a fixture, to hold what it answers.

    What is marked ``reading`` fills one only to read what is then written of it, page by page.
    """
    if item.get_closest_marker("reading"):
        return False
    fixtures = getattr(item, "fixturenames", ())
    return item.get_closest_marker("django_db") is not None or "db" in fixtures


def skipped_for_want(reasons: list[str]) -> list[str]:
    """Lines that say, for each missing tool, how many tests it cost and what brings it."""
    said = (re.search(f"{_LACKS}([a-z, ]+)", reason) for reason in reasons)
    lost = Counter(tool for found in said if found for tool in found[1].split(", "))
    return [
        f"{count} tests were skipped for want of {tool}: {TOOLS[tool][1]}"
        for tool, count in sorted(lost.items())
    ]
