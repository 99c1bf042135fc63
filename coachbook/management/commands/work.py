"""Do one piece of background work; the site starts this by itself."""

from __future__ import annotations

import os
from typing import Any

from django.apps import apps
from django.core.management.base import BaseCommand, CommandError, CommandParser

from shared.worker import Work, perform


class Command(BaseCommand):
    help = "Do one piece of background work. The site starts this by itself."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("table", help="what kind of work, such as practice.Improvement")
        parser.add_argument("row", type=int, help="number of the row")
        parser.add_argument("start", type=int, help="which start of it this is")

    def handle(self, *args: Any, table: str, row: int, start: int, **options: Any) -> None:
        try:
            model = apps.get_model(table)
        except (LookupError, ValueError):
            raise CommandError(f"There is no work called {table}.") from None
        if not issubclass(model, Work):
            raise CommandError(f"{table} is no work.")
        found = model.rows().filter(pk=row, starts=start).first()
        if found is None:
            raise CommandError(f"There is no start {start} of row {row}.")
        perform(found, leave=os._exit)
