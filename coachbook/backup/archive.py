"""A backup as one file: a ZIP archive (PKWARE APPNOTE) of JSON lines with a table of contents.

``manifest.json`` says when it was made, by which migrations, and for each model the number of
rows and their SHA-256. ``secret.key`` is in it, so that personal links work after a move: keep
the file as you would keep the key.
"""

from __future__ import annotations

import io
import json
import os
import zipfile
import zlib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, Final

from coachbook.backup.rows import Table, kept_models, lines_of, summed
from coachbook.data_folder import KEY_FILE

FORMAT: Final = 1
MANIFEST: Final = "manifest.json"
BROKEN: Final = (
    zipfile.BadZipFile,
    zlib.error,
    EOFError,
    OSError,
    AttributeError,
    LookupError,
    TypeError,
    ValueError,
)


class BackupError(Exception):
    """A backup that cannot be made, read or put back; the text says why."""


@dataclass(frozen=True, slots=True)
class Manifest:
    """What a backup says of itself. ``migrations`` are "app.name", sorted."""

    format: int
    made_at: str
    migrations: tuple[str, ...]
    tables: Mapping[str, Table]

    @property
    def rows(self) -> int:
        return sum(table.rows for table in self.tables.values())


def write_archive(
    path: Path, using: str, made_at: datetime, migrations: tuple[str, ...], key: str | None
) -> Manifest:
    """Write the rows of a database to a file that is whole or not there. Raises OSError."""
    part = path.with_name(f".{path.name}.part")
    try:
        manifest = _write_part(part, using, made_at, migrations, key)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
    return manifest


def checked(path: Path) -> Manifest:
    """Read a whole backup and compare it with its table of contents. Raises BackupError."""
    manifest = read_manifest(path)
    for label, table in manifest.tables.items():
        with _reading(path), lines_in(path, label) as lines:
            found = summed(lines)
        if found != table:
            raise BackupError(
                f"{path} is damaged: {label} holds {found.rows} rows where {table.rows} were "
                "written, or other ones. Take another backup."
            )
    return manifest


def read_manifest(path: Path) -> Manifest:
    """The table of contents. Raises BackupError where the file is no whole backup of ours."""
    with _reading(path), zipfile.ZipFile(path) as archive:
        said: Mapping[str, Any] = json.loads(archive.read(MANIFEST))
        if said["format"] != FORMAT:
            raise BackupError(f"{path} has format {said['format']}; this version reads {FORMAT}.")
        tables = {label: Table(**table) for label, table in said["tables"].items()}
        if unknown := sorted(set(tables) - set(kept_models())):
            raise BackupError(f"{path} holds what this version does not know: {unknown[0]}.")
        return Manifest(FORMAT, str(said["made_at"]), tuple(said["migrations"]), tables)


def key_in(path: Path) -> str | None:
    """The secret key of a backup, if it has one."""
    with _reading(path), zipfile.ZipFile(path) as archive:
        return archive.read(KEY_FILE).decode("ascii") if KEY_FILE in archive.namelist() else None


@contextmanager
def lines_in(path: Path, label: str) -> Iterator[Iterable[str]]:
    """The lines of one model in a backup."""
    with zipfile.ZipFile(path) as archive, archive.open(_member(label)) as raw:
        yield io.TextIOWrapper(raw, "utf-8", newline="\n")


def _write_part(
    part: Path, using: str, made_at: datetime, migrations: tuple[str, ...], key: str | None
) -> Manifest:
    descriptor = os.open(part, os.O_RDWR | os.O_CREAT | os.O_TRUNC, 0o600)
    tables = {}
    with os.fdopen(descriptor, "w+b") as file:
        with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
            for label, model in kept_models().items():
                with archive.open(_member(label), "w", force_zip64=True) as out:
                    tables[label] = summed(_copied(lines_of(model, using), out))
            manifest = Manifest(FORMAT, made_at.isoformat(), migrations, tables)
            archive.writestr(MANIFEST, json.dumps(asdict(manifest), indent=1))
            if key is not None:
                archive.writestr(KEY_FILE, key)
        file.flush()
        os.fsync(file.fileno())
    return manifest


def _copied(lines: Iterable[str], out: Any) -> Iterator[str]:
    for line in lines:
        out.write(line.encode())
        yield line


@contextmanager
def _reading(path: Path) -> Iterator[None]:
    """Turn every way in which a file can be broken into one sentence."""
    try:
        yield
    except BROKEN as error:
        raise BackupError(f"{path} is no whole backup ({error}). Take another one.") from error


def _member(label: str) -> str:
    return f"rows/{label}.jsonl"
