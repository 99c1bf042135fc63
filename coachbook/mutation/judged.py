"""Mutants that lived and were judged one by one: they change nothing that anybody could notice.

Each is kept in `judged.toml` by what it changes, with the reason, and is told apart from those that
are caught. A line that is written anew takes its judgement with it: a test finds what is stale.
"""

from __future__ import annotations

import ast
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

from coachbook.mutation.mutators import Mutant

FILE: Final = Path(__file__).with_name("judged.toml")


@dataclass(frozen=True, slots=True)
class Judgement:
    """One change by its place and its text, and why nothing follows from it."""

    path: str
    inside: str
    before: str
    after: str
    why: str

    def is_of(self, mutant: Mutant, tree: ast.Module) -> bool:
        """Whether it judges that mutant of the module with this tree."""
        return (self.path, self.inside) == (mutant.path, mutant.inside) and (
            [f"-{self.before}", f"+{self.after}"] == _bare(mutant.difference(tree))
        )


@cache
def judged() -> tuple[Judgement, ...]:
    """All that were judged, as they stand in the file."""
    return tuple(Judgement(**each) for each in tomllib.loads(FILE.read_text("utf-8"))["judged"])


def _bare(lines: list[str]) -> list[str]:
    return [line[0] + line[1:].strip() for line in lines]
