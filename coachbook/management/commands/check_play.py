"""Check play files: can each be run, by this age group, against this defence?"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from plays.core.check.files import Checked, check_file, check_folder
from plays.core.check.setting import DEFENCES
from plays.core.motion.pace import EFFORT
from plays.core.play import AgeGroup, RuleSet
from shared.core.language import UnknownLanguageError
from shared.speech import language_of

WRONG_CALL = 64  # EX_USAGE in BSD's sysexits.h, so that nobody takes it for a finding


class Command(BaseCommand):
    help = (
        "Check play files, or every .json file of a folder, and print the findings. The exit "
        "status is that of the worst: 0 nothing worse than a note, 1 warnings, 2 serious, "
        "3 no play; 64 a call that makes no sense."
    )
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("paths", nargs="+", type=Path, metavar="file-or-folder")
        ages = [age.value for age in AgeGroup]
        parser.add_argument("--age", choices=ages, help="age group; else each play's own level")
        parser.add_argument(
            "--effort", type=float, default=EFFORT, help="share of the top speed, 0.1 to 1"
        )
        parser.add_argument(
            "--defence", choices=DEFENCES, help="else as drawn where anybody is drawn, or chase"
        )
        rules = [rule_set.value for rule_set in RuleSet]
        parser.add_argument("--rules", choices=rules, help="rule set and court; else as drawn")
        parser.add_argument("--language", default="en", help="language of the findings, such as es")
        parser.add_argument("--json", action="store_true", dest="as_json", help="print JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        if not 0.1 <= options["effort"] <= 1.0:
            raise CommandError(
                "--effort is a share of the top speed, from 0.1 to 1.", returncode=WRONG_CALL
            )
        found = list(self._checked(options))
        if not found:
            raise CommandError("There is no .json file to check.", returncode=WRONG_CALL)
        if options["as_json"]:
            self.stdout.write(json.dumps([each.to_json() for each in found], ensure_ascii=False))
        else:
            self._print(found, options["language"])
        worst = max(each.status for each in found)
        if worst:
            sys.exit(worst)

    def _checked(self, options: dict[str, Any]) -> Iterator[Checked]:
        how = {
            "age": AgeGroup(options["age"]) if options["age"] else None,
            "effort": options["effort"],
            "defence": options["defence"],
            "rule_set": RuleSet(options["rules"]) if options["rules"] else None,
            "language": self._language(options["language"]),
        }
        for path in options["paths"]:
            if path.is_dir():
                yield from check_folder(path, **how)
            elif path.is_file():
                yield check_file(path, **how)
            else:
                raise CommandError(f"There is no file or folder {path}.", returncode=WRONG_CALL)

    def _language(self, code: str) -> Any:
        try:
            return language_of(code)
        except UnknownLanguageError as unknown:
            raise CommandError(
                f"There is no catalogue for {code!r}.", returncode=WRONG_CALL
            ) from unknown

    def _print(self, found: list[Checked], code: str) -> None:
        for each in found:
            self.stdout.write(each.name)
            for line in each.lines(self._language(code)):
                self.stdout.write(f"  {line}")
