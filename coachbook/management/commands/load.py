"""Put a load on a scratch site, and say how it bore it: nothing of a real club is touched."""

from __future__ import annotations

from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from coachbook.benchmarks import evening
from coachbook.benchmarks import federation as federations


class Command(BaseCommand):
    help = "A hall's evening on a scratch site; with --federation a federation's rows instead."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--seconds", default=evening.SECONDS, type=float, help="how long the evening is"
        )
        parser.add_argument(
            "--federation", action="store_true", help="fill an empty database, and time its pages"
        )
        parser.add_argument("--teams", default=400, type=int, help="teams of fifteen players")
        parser.add_argument("--reps", default=520_000, type=int, help="reps of all teams")

        parser.add_argument(
            "--filled",
            action="store_true",
            help="measure once more a database that --federation has filled",
        )

    def handle(
        self,
        *args: Any,
        seconds: float,
        federation: bool,
        teams: int,
        reps: int,
        filled: bool,
        **options: Any,
    ) -> None:
        if federation or filled:
            federations.run(self.stdout, teams, reps, filled=filled)  # type: ignore[arg-type]
        else:
            evening.run(self.stdout, seconds)  # type: ignore[arg-type]
