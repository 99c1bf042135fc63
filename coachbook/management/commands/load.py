"""Put a load on a scratch site, and say how it bore it: nothing of a real club is touched."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from coachbook.benchmarks import evening


class Command(BaseCommand):
    help = "A hall's evening: 4 staff and 60 phones, for a bounded time, on a scratch site."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--seconds", default=evening.SECONDS, type=float, help="how long the evening is"
        )

    def handle(self, *args: Any, seconds: float, **options: Any) -> None:
        evening.run(self.stdout, seconds)  # type: ignore[arg-type]
