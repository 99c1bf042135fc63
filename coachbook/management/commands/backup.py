"""Write the whole club into one file, while the site goes on."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils import timezone

from coachbook.backup.archive import BackupError
from coachbook.backup.keeping import make_backup


class Command(BaseCommand):
    help = "Write a backup of the club into one file. The site may go on meanwhile."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--to", type=Path, help="folder (else backups in the data)")
        parser.add_argument("--keep", type=int, help="how many of the newest stay there")

    def handle(self, *args: Any, to: Path | None, keep: int | None, **options: Any) -> None:
        if keep is not None and keep < 1:
            raise CommandError(f"--keep {keep}: write 1 or more.")
        try:
            path, manifest = make_backup(
                to or settings.DATA / "backups", timezone.localtime(), keep
            )
        except BackupError as error:
            raise CommandError(str(error)) from error
        self.stdout.write(f"{path}: {manifest.rows} rows.")
        self.stdout.write("It holds names, and the key of the personal links: keep it as safe.")
