"""The data folder of a club: its secret key, and that nobody else on the machine may read it.

Read by the settings, before Django is up.
"""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterator
from pathlib import Path

from django.core.exceptions import ImproperlyConfigured

KEY_FILE = "secret.key"
DATABASE_FILE = "club.sqlite3"
SHORTEST_KEY = 50  # characters, as Django's own check asks
OURS = (KEY_FILE, DATABASE_FILE, "static", "backups", "uploads")
FOR_OTHERS = 0o077
NEW_KEY = 'python3 -c "import secrets; print(secrets.token_urlsafe(64))"'


def kept_key(data: Path) -> str:
    """The key in the data folder, made when the folder is new. Raises ImproperlyConfigured.

    A folder that was in use and has lost its key is refused: another key would close every
    personal link, every invitation and every session, and nobody would know why.
    """
    kept = data / KEY_FILE
    if not kept.exists():
        if _was_used(data):
            raise ImproperlyConfigured(
                f"The key {kept} is gone, though {data} was in use. Put it back from a backup, or "
                "set COACHBOOK_SECRET_KEY as before. Where it is lost for good, make another: "
                f"{NEW_KEY} > {kept}   Every personal link and invitation then ends and has to "
                "be handed out anew, and everybody signs in again."
            )
        _write_key(kept)
    return _read_key(kept)


def make_private(data: Path) -> list[Path]:
    """Take the data folder's files from other accounts of this machine; those that were open."""
    if os.name != "posix":
        return []
    found = [path for path in _private_paths(data) if path.stat().st_mode & FOR_OTHERS]
    for path in found:
        path.chmod(path.stat().st_mode & ~FOR_OTHERS)
    return found


def touch_private(path: Path) -> None:
    """Make an empty file that only its owner reads, where there is none.

    SQLite takes an empty file for an empty database, and gives its log the same rights.
    """
    if not path.exists():
        path.touch(mode=0o600)


def _was_used(data: Path) -> bool:
    database = data / DATABASE_FILE
    return (database.exists() and database.stat().st_size > 0) or (data / "static").exists()


def _write_key(kept: Path) -> None:
    descriptor = os.open(kept, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    with os.fdopen(descriptor, "w", encoding="ascii") as file:
        file.write(secrets.token_urlsafe(64))


def _read_key(kept: Path) -> str:
    try:
        key = kept.read_text("ascii").strip()
    except (OSError, UnicodeDecodeError) as error:
        raise ImproperlyConfigured(f"The key {kept} cannot be read ({error}).") from error
    if len(key) < SHORTEST_KEY:
        raise ImproperlyConfigured(
            f"The key {kept} holds {len(key)} characters; it takes {SHORTEST_KEY} or more, or "
            f"links can be guessed. Put it back from a backup, or make another: {NEW_KEY} > {kept}"
        )
    return key


def _private_paths(data: Path) -> Iterator[Path]:
    """Our own files, and the folder where nothing else lies in it: /tmp stays as it is."""
    inside = list(data.iterdir())
    if all(path.name.startswith(OURS) for path in inside):
        yield data
    yield from sorted(p for p in inside if p.is_file() and p.name.startswith(OURS))
