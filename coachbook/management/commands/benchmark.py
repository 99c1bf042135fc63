"""Run the benchmarks: each compares our code with something outside it in one run."""

from __future__ import annotations

from importlib import import_module
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

SUBJECTS = (
    "drawing",
    "motion",
    "casting",
    "install",
    "courtside",
    "pages",
    "booklets",
    "gestures",
    "court",
    "calls",
    "uncast",
)


class Command(BaseCommand):
    help = "Compare the project's computing with general tools, in one run on this machine."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("subjects", nargs="*", metavar="subject", help=", ".join(SUBJECTS))

    def handle(self, *args: Any, subjects: list[str], **options: Any) -> None:
        unknown = sorted(set(subjects) - set(SUBJECTS))
        if unknown:
            raise CommandError(f"No benchmark {unknown[0]!r}: choose from {', '.join(SUBJECTS)}.")
        for subject in subjects or SUBJECTS:
            self.stdout.write(f"== {subject}")
            import_module(f"coachbook.benchmarks.{subject}").run(self.stdout)
