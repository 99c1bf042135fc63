"""Making backups, trying them, and putting one back into an empty site."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Final

from django.conf import settings
from django.core import serializers
from django.core.management import call_command
from django.core.management.color import no_style
from django.core.serializers.base import DeserializationError
from django.db import Error, connection, connections, transaction
from django.db.migrations.recorder import MigrationRecorder
from django.db.models import QuerySet

from coachbook import environment
from coachbook.backup.archive import (
    BackupError,
    Manifest,
    checked,
    key_in,
    lines_in,
    write_archive,
)
from coachbook.backup.rows import APPS, kept_models, lines_of, summed
from coachbook.backup.snapshot import one_moment
from coachbook.data_folder import KEY_FILE

ROOT: Final = Path(__file__).parents[2]
_NAME: Final = re.compile(r"coachbook-\d{4}-\d\d-\d\d-\d{6}\.zip")


def make_backup(folder: Path, now: datetime, keep: int | None = None) -> tuple[Path, Manifest]:
    """Write a backup into a folder, and let go of our own oldest ones beyond ``keep``.

    Raises BackupError where the folder cannot be written; nothing half-written is left.
    """
    path = folder / f"coachbook-{now:%Y-%m-%d-%H%M%S}.zip"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        with one_moment() as alias:
            manifest = write_archive(path, alias, now, _migrations(alias), _key())
    except OSError as error:
        raise BackupError(f"{path} cannot be written: {error.strerror or error}.") from error
    if keep is not None:
        for old in backups_in(folder)[:-keep]:
            old.unlink()
    return path, manifest


def backups_in(folder: Path) -> list[Path]:
    """Our own backups of a folder, the oldest first; other files are nobody's business."""
    if not folder.is_dir():
        return []
    return sorted(path for path in folder.iterdir() if _NAME.fullmatch(path.name))


def try_backup(path: Path) -> Manifest:
    """Put a backup back into an empty site of its own and compare every row.

    In another process with a scratch folder: nothing of it can touch the club that is served.
    Raises BackupError.
    """
    manifest = checked(path)
    with tempfile.TemporaryDirectory() as folder:
        surroundings = {**os.environ, "COACHBOOK_DATA": folder}
        surroundings.pop("COACHBOOK_DATABASE", None)
        command = [sys.executable, str(ROOT / "manage.py"), "restore", str(path.resolve())]
        done = subprocess.run(
            command, env=surroundings, cwd=ROOT, capture_output=True, text=True, check=False
        )
    if done.returncode:
        raise BackupError(done.stderr.strip().removeprefix("CommandError: "))
    return manifest


def restore(path: Path) -> tuple[Manifest, bool]:
    """Put a backup back into the empty site, and its key where the site keeps its own.

    Returns also whether the key came along. Raises BackupError; then nothing was changed.
    """
    call_command("migrate", interactive=False, verbosity=0)
    manifest, key = _put_back(path), key_in(path)
    if key is None or _key() is None:
        return manifest, False
    (settings.DATA / KEY_FILE).write_text(key, "ascii")
    return manifest, True


def _put_back(path: Path) -> Manifest:
    """Fill an empty database from a backup, in one transaction. Raises BackupError."""
    manifest = checked(path)
    _check_version(path, manifest)
    full = [label for label, model in kept_models().items() if QuerySet(model).exists()]
    if full:
        raise BackupError(
            f"There is a club already ({full[0]} has rows); a backup is put back into an empty "
            "site only. Name another, empty folder with COACHBOOK_DATA, or an empty database."
        )
    try:
        with transaction.atomic():
            for label in manifest.tables:
                _load(path, label)
            _reset_sequences()
            _compare(path, manifest)
    except (DeserializationError, Error) as error:
        raise BackupError(
            f"{path} does not fit this version: {error}. Nothing was kept."
        ) from error
    return manifest


def _load(path: Path, label: str) -> None:
    with lines_in(path, label) as lines:
        for row in serializers.deserialize("jsonl", lines):
            row.save()


def _compare(path: Path, manifest: Manifest) -> None:
    models = kept_models()
    for label, table in manifest.tables.items():
        if summed(lines_of(models[label], connection.alias)) != table:
            raise BackupError(f"{path}: {label} did not come back as it was. Nothing was kept.")


def _check_version(path: Path, manifest: Manifest) -> None:
    theirs, ours = set(manifest.migrations), set(_migrations(connection.alias))
    if theirs == ours:
        return
    if newer := sorted(theirs - ours):
        raise BackupError(
            f"{path} was made by a newer version ({newer[0]} is unknown here). Update first."
        )
    raise BackupError(
        f"{path} was made by an older version (it lacks {min(ours - theirs)}). Put it back with "
        "the version that made it, then update: `start` brings the data along."
    )


def _migrations(using: str) -> tuple[str, ...]:
    applied = MigrationRecorder(connections[using]).applied_migrations()
    return tuple(sorted(f"{app}.{name}" for app, name in applied if app in APPS))


def _reset_sequences() -> None:
    statements: Sequence[str] = connection.ops.sequence_reset_sql(
        no_style(), list(kept_models().values())
    )
    with connection.cursor() as cursor:
        for statement in statements:
            cursor.execute(statement)


def _key() -> str | None:
    """The key that lies in the data folder, or None where the settings bring their own."""
    return None if environment.brings_key() else str(settings.SECRET_KEY)
