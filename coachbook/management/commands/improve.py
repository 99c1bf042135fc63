"""Improve one install plan; the site starts this by itself."""

from __future__ import annotations

import os
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from practice.install.improving import work
from practice.models import Improvement


class Command(BaseCommand):
    help = "Improve an install plan in the background. The site starts this by itself."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("run", type=int, help="number of the run")

    def handle(self, *args: Any, run: int, **options: Any) -> None:
        found = Improvement.objects.select_related("plan__game__team").filter(pk=run).first()
        if found is None:
            raise CommandError(f"There is no run {run}.")
        work(found, leave=os._exit)
