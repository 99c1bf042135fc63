"""A migrated SQLite file, kept between runs in pytest's cache: migrating takes seconds.

The test database of a run begins as a copy of it, and so do the sites of tests that start one.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Final

import django
import pytest
from django.conf import settings
from django.db import connection

from coachbook.data_folder import DATABASE_FILE, kept_key

ROOT: Final = Path(__file__).parents[1]
_known: list[pytest.Config] = []


def know(config: pytest.Config) -> None:
    """Where this run keeps its template: asked once, for helpers that are no fixtures."""
    _known[:] = [config]


def laid(data: Path) -> Path:
    """The data folder of a site that need not migrate; an empty one where no template is yet.

    For tests of a site that runs: those of a first start and of migrating begin without.
    """
    data.mkdir(parents=True, exist_ok=True)
    kept = _template(_known[0]) if _known else None
    file = data / DATABASE_FILE
    if kept is not None and kept.exists() and not file.exists():  # nothing over a club
        kept_key(data)  # a file without its key would be refused
        shutil.copyfile(kept, file)
        file.chmod(0o600)
    return data


def lay(config: pytest.Config) -> bool:
    """Copy the template to where the test database belongs; whether there was one."""
    kept = _template(config)
    if connection.vendor != "sqlite" or kept is None or not kept.exists():
        return False
    shutil.copyfile(kept, _test_name())
    return True


def keep(config: pytest.Config) -> None:
    """Copy the migrated database away, if no template is there; whole or not at all."""
    kept = _template(config)
    if connection.vendor != "sqlite" or kept is None or kept.exists():
        return
    part = kept.with_suffix(f".{os.getpid()}")
    with closing(sqlite3.connect(_test_name())) as made, closing(sqlite3.connect(part)) as copy:
        made.backup(copy)
    part.replace(kept)


def _test_name() -> str:
    return str(connection.settings_dict["TEST"]["NAME"])


def _template(config: pytest.Config) -> Path | None:
    cache = getattr(config, "cache", None)  # absent under -p no:cacheprovider
    if cache is None:
        return None
    digest = hashlib.sha256(f"{django.__version__} {settings.INSTALLED_APPS}".encode())
    for path in sorted(ROOT.glob("*/migrations/*.py")):
        digest.update(path.read_bytes())
    return Path(cache.mkdir("migrated")) / f"{digest.hexdigest()[:16]}.sqlite3"
