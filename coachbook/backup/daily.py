"""A backup a day, made beside the site that is being served."""

from __future__ import annotations

import logging
import subprocess
import sys
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from coachbook.backup.keeping import ROOT, backups_in

EACH: Final = timedelta(days=1)
LOOK_EVERY: Final = 600.0  # seconds; a laptop that slept through the night is caught up

log = logging.getLogger(__name__)


def begin_daily(folder: Path, keep: int) -> None:
    """Look now and then whether a backup is due, for as long as the process lives."""
    threading.Thread(target=_look_on, args=(folder, keep), daemon=True, name="backups").start()


def is_due(folder: Path, now: datetime) -> bool:
    """Whether the newest backup of the folder is a day old, or there is none.

    One of the future was made before the clock was set back, and counts as long ago.
    """
    newest = max((path.stat().st_mtime for path in backups_in(folder)), default=0.0)
    return abs(now - datetime.fromtimestamp(newest, UTC)) >= EACH


def _look_on(folder: Path, keep: int) -> None:
    pause = threading.Event()
    while True:
        if is_due(folder, datetime.now(UTC)):
            _make(folder, keep)
        pause.wait(LOOK_EVERY)


def _make(folder: Path, keep: int) -> None:
    """In a process of its own: the site keeps its memory, and a fault there ends nothing here."""
    command = [
        sys.executable,
        str(ROOT / "manage.py"),
        "backup",
        f"--to={folder}",
        f"--keep={keep}",
    ]
    done = subprocess.run(command, capture_output=True, text=True, check=False, cwd=ROOT)
    if done.returncode:
        log.error("The daily backup failed: %s", done.stderr.strip()[-500:])
