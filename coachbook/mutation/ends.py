"""How mutants ended, kept as soon as it is known: a run that is broken off goes on where it was.

An end holds as long as nothing changes that it came from: the text of the cores, the tests that
were asked and their files. It is a line in `.mutation_cache`, added in one write.
"""

from __future__ import annotations

import ast
import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Final

from coachbook.mutation import record
from coachbook.mutation.nursery import Plan

KEPT: Final = record.KEPT.with_name("ends.jsonl")


class KnownEnds:
    """The ends that are known, each by what it came from: see ``nursery`` for their numbers."""

    def __init__(self, kept: record.Kept, path: Path = KEPT) -> None:
        self.kept = kept
        self.path = path
        lines = path.read_text("utf-8").splitlines() if path.exists() else []
        self.known: Mapping[str, int] = dict(_told(lines))

    def of(self, plan: Plan) -> int | None:
        """How it ended; None where nobody knows."""
        return self.known.get(self._name(plan))

    def add(self, plan: Plan, end: int) -> None:
        """Keep an end in the file: another process may do so, and this one reads it later."""
        self.path.parent.mkdir(exist_ok=True)
        with self.path.open("a", encoding="utf-8") as lines:
            lines.write(json.dumps([self._name(plan), end]) + "\n")

    def _name(self, plan: Plan) -> str:
        mutant = plan.mutant
        files = dict.fromkeys(test.split("::")[0] for test in plan.tests)
        parts = (
            self.kept.base,
            mutant.path,
            mutant.steps,
            ast.dump(mutant.instead),
            plan.tests,
            [self.kept.files[file] for file in files],
        )
        return hashlib.sha256(repr(parts).encode()).hexdigest()


def _told(lines: list[str]) -> list[tuple[str, int]]:
    """What lines say; the last may have been broken off in the middle."""
    found = []
    for line in lines:
        try:
            name, end = json.loads(line)
        except ValueError:
            continue
        found.append((name, end))
    return found
