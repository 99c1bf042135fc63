"""Put a backup back into an empty site."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from coachbook.backup.archive import BackupError
from coachbook.backup.keeping import restore


class Command(BaseCommand):
    help = "Put a backup back into an empty site (COACHBOOK_DATA, COACHBOOK_DATABASE say where)."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="the backup")

    def handle(self, *args: Any, file: Path, **options: Any) -> None:
        try:
            manifest, with_key = restore(file)
        except BackupError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(f"{manifest.rows} rows of {manifest.made_at} are back, each compared.")
        if not with_key:
            self.stdout.write(
                "The key did not come along: personal links open only where COACHBOOK_SECRET_KEY "
                "is what it was."
            )
