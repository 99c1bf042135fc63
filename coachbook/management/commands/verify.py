"""Try a backup: put it back into a scratch database and compare every row."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from coachbook.backup.archive import BackupError
from coachbook.backup.keeping import try_backup


class Command(BaseCommand):
    help = "Try a backup: put it back into a scratch database and compare every row."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, help="the backup")

    def handle(self, *args: Any, file: Path, **options: Any) -> None:
        try:
            manifest = try_backup(file)
        except BackupError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(f"{file} is whole: {manifest.rows} rows of {manifest.made_at}.")
