"""A migrated SQLite file, kept between runs in pytest's cache: migrating takes seconds."""

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

ROOT: Final = Path(__file__).parents[1]


def lay(config: pytest.Config) -> bool:
    """Copy the template to where the test database belongs; whether there was one."""
    kept = _template(config)
    if kept is None or not kept.exists():
        return False
    shutil.copyfile(kept, _test_name())
    return True


def keep(config: pytest.Config) -> None:
    """Copy the migrated database away, if no template is there; whole or not at all."""
    kept = _template(config)
    if kept is None or kept.exists():
        return
    part = kept.with_suffix(f".{os.getpid()}")
    with closing(sqlite3.connect(_test_name())) as made, closing(sqlite3.connect(part)) as copy:
        made.backup(copy)
    part.replace(kept)


def _test_name() -> str:
    return str(connection.settings_dict["TEST"]["NAME"])


def _template(config: pytest.Config) -> Path | None:
    cache = getattr(config, "cache", None)  # absent under -p no:cacheprovider
    if connection.vendor != "sqlite" or cache is None:
        return None
    digest = hashlib.sha256(f"{django.__version__} {settings.INSTALLED_APPS}".encode())
    for path in sorted(ROOT.glob("*/migrations/*.py")):
        digest.update(path.read_bytes())
    return Path(cache.mkdir("migrated")) / f"{digest.hexdigest()[:16]}.sqlite3"
