"""Benchmarks that need a site: measured in a scratch folder, by a process of its own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any, Final

ROOT: Final = Path(__file__).resolve().parents[2]


def measured_by(module: str, *given: float) -> Any:
    """What ``measured`` of a module tells of what is given, as JSON on the last line it writes.

    Raises CalledProcessError where it fails.
    """
    script = f"from {module} import measured; measured(*{given!r})"
    with tempfile.TemporaryDirectory() as data:
        env = {
            **os.environ,
            "COACHBOOK_DATA": data,
            "DJANGO_SETTINGS_MODULE": "coachbook.settings",
        }
        command = [sys.executable, "-m", "django", "shell", "--no-imports", "-c", script]
        done = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, check=True)
    return json.loads(done.stdout.decode().splitlines()[-1])
