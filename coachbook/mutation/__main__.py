"""`python3 manage.py mutate`: how many small wrong changes to the cores the tests notice."""

from __future__ import annotations

import argparse
import ast
import os
import random
import sys
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from coachbook.mutation import nursery, reach, trial
from coachbook.mutation.ends import KnownEnds
from coachbook.mutation.judged import judged
from coachbook.mutation.mutators import Mutant, mutants
from coachbook.mutation.nursery import Nursery, Plan
from coachbook.mutation.record import Kept, Only, Record, Recorder

# Imported before the first fork, so that no child pays for them; none of the project is.
WARM = ("django.test", "hypothesis", "numpy", "pydantic", "scipy.optimize", "pytest_django")
LONGEST = 3600  # seconds of the processor for a run of many tests
OUT = os.dup(1)
LIVES = 3  # after all was loaded anew; beside the ends of the nursery


def main(argv: list[str]) -> int:
    options = _parser().parse_args(argv)
    trees = {
        path: ast.parse((reach.ROOT / path).read_text("utf-8"))
        for path in reach.modules()
        if path.startswith(tuple(options.only))
    }
    sample = drawn(trees, options.seed, options.sample)
    for name in WARM:
        __import__(name)
    os.chdir(reach.ROOT)
    os.nice(5)
    with tempfile.TemporaryDirectory(prefix="coachbook-mutate-") as folder:
        kept = _recorded(reach.tests(tuple(options.tests)), Path(folder))
        if kept is None:
            say("The tests fail as they are: mend them first.")
            return 1
        record = kept.record(reach.tests(tuple(options.tests)))
        plans = [Plan(each, record.plan(each, options.seconds)) for each in sample]
        trials = Trials(trees, record, KnownEnds(kept), Path(folder), options.processes)
        survivors = trials.survivors(plans)
    say(_score(len(sample), len(survivors), sum(map(trials.is_judged, survivors)), options.seed))
    return 0


def _score(tried: int, alive: int, judged: int, seed: int) -> str:
    caught, noticeable = tried - alive, tried - judged
    share = 100 * caught / noticeable if noticeable else 100.0
    apart = f", {judged} judged to change nothing" if judged else ""
    return f"{caught} of {tried} mutants caught{apart}: {share:.1f} % (seed {seed})"


def drawn(trees: dict[str, ast.Module], seed: int, count: int) -> list[Mutant]:
    """A sample of all mutants without repeats; the same for the same text and seed."""
    every = [each for path, tree in trees.items() for each in mutants(path, tree)]
    chosen = random.Random(seed).sample(every, min(count, len(every)))  # noqa: S311 - a sample, no secret
    return sorted(chosen, key=lambda each: (each.path, each.line))


def say(line: str) -> None:
    """A line for who asked, from a child as well, whose output goes nowhere."""
    os.write(OUT, f"{line}\n".encode())


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="manage.py mutate", description=__doc__)
    parser.add_argument("--seed", type=int, default=1, help="which sample is drawn")
    parser.add_argument("--sample", type=int, default=200, help="how many mutants")
    parser.add_argument(
        "--only", nargs="+", default=[""], metavar="PATH", help="paths that begin so"
    )
    parser.add_argument(
        "--tests", nargs="+", default=[""], metavar="PATH", help="those that begin so"
    )
    parser.add_argument("--processes", type=int, choices=(1, 2), default=1)
    parser.add_argument("--seconds", type=int, default=30, help="of tests for each mutant")
    return parser


def _recorded(files: list[str], scratch: Path) -> Kept | None:
    """What test files run, with nothing changed; None where a test fails."""
    kept = Kept.read()
    stale = kept.stale(files)
    if stale:
        into = scratch / "record.json"
        say(f"Recording what {len(stale)} test files run ...")
        if not trial.passes(stale, None, scratch, LONGEST, Recorder(into)):
            return None
        kept.take(stale, into)
        kept.write()
    return kept


@dataclass(frozen=True, slots=True)
class Trials:
    """What mutants are tried with: in the nursery, and where they survive there, by loading all."""

    trees: dict[str, ast.Module]
    record: Record
    ends: KnownEnds
    scratch: Path
    processes: int

    def survivors(self, plans: list[Plan]) -> list[Mutant]:
        """Those that no test notices; how each ends is kept as soon as it is known."""
        self._nurse({n: plan for n, plan in enumerate(plans) if self._is_for_the_nursery(plan)})
        ends = KnownEnds(self.ends.kept, self.ends.path)
        slow = sum((ends.of(plan) or 0) < 0 for plan in plans)
        if slow:
            say(f"{slow} of those caught made a test run too long.")
        left = [plan for plan in plans if ends.of(plan) in AGAIN]
        return [plan.mutant for plan in left if self._lives(plan, ends.of(plan))]

    def _is_for_the_nursery(self, plan: Plan) -> bool:
        return bool(plan.mutant.inside and plan.tests) and self.ends.of(plan) is None

    def _nurse(self, plans: dict[int, Plan]) -> None:
        if not plans:
            return
        seconds = {
            test: self.record.seconds_of(test) for plan in plans.values() for test in plan.tests
        }
        done: list[int] = []

        def tell(number: int, end: int) -> None:
            self.ends.add(plans[number], end)
            done.append(end)
            mutant = plans[number].mutant
            if end in AGAIN:
                say(f"{len(done)} of {len(plans)}: {mutant.path}:{mutant.line} seems to live")

        plugin = Nursery(plans, self.trees, seconds, self.processes, tell)
        files = dict.fromkeys(test.split("::")[0] for test in seconds)
        trial.passes(files, None, self.scratch, LONGEST, plugin, quiet=True)

    def _lives(self, plan: Plan, end: int | None) -> bool:
        mutant = plan.mutant
        if plan.tests and end != LIVES:
            code = compile(mutant.applied(self.trees[mutant.path]), mutant.path, "exec")
            instead = trial.Instead(mutant.path, code)
            files = dict.fromkeys(test.split("::")[0] for test in plan.tests)
            limit = self._limit(plan.tests)
            lives = trial.passes(files, instead, self.scratch, limit, Only(plan.tests))
            self.ends.add(plan, LIVES if lives else nursery.CAUGHT)
            if not lives:
                return False
        if not self.is_judged(mutant):
            _tell(plan, self.trees[mutant.path])
        return True

    def is_judged(self, mutant: Mutant) -> bool:
        """Whether somebody has judged that it changes nothing."""
        return any(each.is_of(mutant, self.trees[mutant.path]) for each in judged())

    def _limit(self, tests: Iterable[str]) -> float:
        """Seconds of the processor: some to begin with, and a multiple of what the tests took."""
        took = sum(map(self.record.seconds_of, tests))
        return 2 * nursery.LEAST + nursery.SLOWER * took


# Tried by loading all: what seems to live, what runs when a module is loaded, what is known to.
AGAIN = (None, nursery.ALIVE, nursery.NO_PLACE, LIVES)


def _tell(plan: Plan, tree: ast.Module) -> None:
    mutant = plan.mutant
    say(f"{mutant.path}:{mutant.line}: {mutant.kind}, {len(plan.tests)} tests")
    for line in mutant.difference(tree):
        say(f"    {line}")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
