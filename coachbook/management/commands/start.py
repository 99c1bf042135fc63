"""Serve a real club."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from coachbook import serving
from coachbook.accounts.changes import set_up_path
from coachbook.backup.daily import begin_daily
from coachbook.data_folder import make_private
from shared.models import Club


class Command(BaseCommand):
    help = "Serve the club whose data lies in COACHBOOK_DATA (by default the folder data)."
    requires_system_checks = "__all__"

    def add_arguments(self, parser: CommandParser) -> None:
        serving.add_address(parser)
        parser.add_argument("--backups", type=Path, help="folder for a backup every day")
        parser.add_argument("--keep", default=14, type=int, help="how many backups stay there")

    def handle(
        self,
        *args: Any,
        host: str,
        port: int,
        hall: bool,
        backups: Path | None,
        keep: int,
        **options: Any,
    ) -> None:
        host = serving.listening(host, port, hall=hall)
        if keep < 1:
            raise CommandError(f"--keep {keep}: write 1 or more.")
        for path in make_private(settings.DATA):
            self.stdout.write(f"Mended: other accounts of this machine could read {path}.")
        serving.prepare()
        self.stdout.write(f"Data: {settings.DATA}")
        address = serving.address(host, port)
        if Club.objects.exists():
            self.stdout.write(f"Open {address}")
        else:
            self.stdout.write("The first page asks for your club and your account. Open")
            self.stdout.write(f"{address}{set_up_path()}")
        serving.write_hall(self.stdout, "start")
        if backups is not None:
            begin_daily(backups.resolve(), keep)
            self.stdout.write(f"Backups: {backups}, one a day, the newest {keep} stay.")
        self.stdout.write("Stop with Ctrl-C.")
        self.stdout.flush()
        serving.serve(host, port)
