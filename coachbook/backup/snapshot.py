"""One moment of a database that others go on writing to."""

from __future__ import annotations

import sqlite3
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Final

from django.conf import settings
from django.db import connection, connections, transaction

from coachbook.data_folder import touch_private

SNAPSHOT: Final = "snapshot"
_ONE_MOMENT: Final = "SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY"


@contextmanager
def one_moment() -> Iterator[str]:
    """The alias of a database that stands still, while the site goes on.

    SQLite's online backup copies the file page by page and begins again where somebody wrote;
    PostgreSQL shows one transaction the same rows for as long as it lasts.
    """
    if connection.vendor == "sqlite":
        with _copied() as alias:
            yield alias
    else:
        with transaction.atomic(durable=True):
            with connection.cursor() as cursor:
                cursor.execute(_ONE_MOMENT)
            yield connection.alias


@contextmanager
def _copied() -> Iterator[str]:
    """A copy of the SQLite file in the data folder, gone at the end."""
    known = connections.settings["default"]
    with tempfile.TemporaryDirectory(prefix="backups-", dir=settings.DATA) as folder:
        path = Path(folder) / "club.sqlite3"
        touch_private(path)
        source, copy = sqlite3.connect(str(known["NAME"])), sqlite3.connect(path)
        with closing(source), closing(copy):
            source.backup(copy)
        connections.settings[SNAPSHOT] = {**known, "NAME": str(path), "OPTIONS": {}}
        try:
            yield SNAPSHOT
        finally:
            connections[SNAPSHOT].close()
            del connections[SNAPSHOT]
            del connections.settings[SNAPSHOT]
