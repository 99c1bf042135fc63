"""`python3 manage.py mutate`: how many small wrong changes to the cores the tests notice."""

from __future__ import annotations

import argparse
import ast
import os
import random
import sys
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from coachbook.mutation import reach, trial
from coachbook.mutation.mutators import Mutant, mutants
from coachbook.mutation.record import Only, Record, Recorder

# Imported before the first fork, so that no child pays for them; none of the project is.
WARM = ("django.test", "hypothesis", "numpy", "pydantic", "scipy.optimize", "pytest_django")
LONGEST = 3600  # seconds of the processor for the run that records


def main(argv: list[str]) -> int:
    options = _parser().parse_args(argv)
    trees = {
        path: ast.parse((reach.ROOT / path).read_text("utf-8"))
        for path in reach.modules()
        if path.startswith(options.only)
    }
    sample = drawn(trees, options.seed, options.sample)
    for name in WARM:
        __import__(name)
    os.chdir(reach.ROOT)
    with tempfile.TemporaryDirectory(prefix="coachbook-mutate-") as folder:
        record = _recorded(sample, Path(folder))
        if record is None:
            say("The tests fail as they are: mend them first.")
            return 1
        trials = Trials(trees, record, Path(folder), options.seconds)
        survivors = list(_survivors(sample, trials, options.processes))
    caught = len(sample) - len(survivors)
    share = 100 * caught / len(sample) if sample else 100.0
    say(f"{caught} of {len(sample)} mutants caught: {share:.1f} % (seed {options.seed})")
    return 0


def drawn(trees: dict[str, ast.Module], seed: int, count: int) -> list[Mutant]:
    """A sample of all mutants without repeats; the same for the same text and seed."""
    every = [each for path, tree in trees.items() for each in mutants(path, tree)]
    chosen = random.Random(seed).sample(every, min(count, len(every)))  # noqa: S311 - a sample, no secret
    return sorted(chosen, key=lambda each: (each.path, each.line))


def say(line: str) -> None:
    print(line, flush=True)  # noqa: T201 - what a contributor asked for


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="manage.py mutate", description=__doc__)
    parser.add_argument("--seed", type=int, default=1, help="which sample is drawn")
    parser.add_argument("--sample", type=int, default=200, help="how many mutants")
    parser.add_argument("--only", default="", metavar="PATH", help="paths that begin so")
    parser.add_argument("--processes", type=int, choices=(1, 2), default=1)
    parser.add_argument("--seconds", type=int, default=20, help="of the processor to begin with")
    return parser


def _recorded(sample: list[Mutant], scratch: Path) -> Record | None:
    """What the tests run and how long they take, with nothing changed; None where one fails."""
    paths = dict.fromkeys(each.path for each in sample)
    files = dict.fromkeys(test for path in paths for stage in reach.stages(path) for test in stage)
    into = scratch / "record.json"
    sound = trial.passes(files, None, scratch, LONGEST, Recorder(into))
    return Record.read(into) if sound else None


@dataclass(frozen=True, slots=True)
class Trials:
    """What a mutant is tried with."""

    trees: dict[str, ast.Module]
    record: Record
    scratch: Path
    seconds: int

    def begin(self, mutant: Mutant) -> int:
        """Try a mutant in a child, which ends with 0 where all tests stay green."""
        sys.stdout.flush()
        child = os.fork()
        if child:
            return child
        code = compile(mutant.applied(self.trees[mutant.path]), mutant.path, "exec")
        instead = trial.Instead(mutant.path, code)
        os._exit(0 if self._green(mutant, instead) else 1)

    def _green(self, mutant: Mutant, instead: trial.Instead) -> bool:
        tests = self.record.tests.get((mutant.path, mutant.inside), ())
        if tests:
            files = dict.fromkeys(test.split("::")[0] for test in tests)
            return trial.passes(files, instead, self.scratch, self._limit(tests), Only(tests))
        stages = reach.stages(mutant.path)
        return all(
            trial.passes(stage, instead, self.scratch, self._limit(stage)) for stage in stages
        )

    def _limit(self, tests: Iterable[str]) -> float:
        """Seconds of the processor: thrice what the tests took, and some to begin with."""
        return self.seconds + 3.0 * self.record.all_seconds(tests)


def _survivors(sample: list[Mutant], trials: Trials, processes: int) -> Iterator[Mutant]:
    """Those that no test notices, each told as soon as it is known."""
    running: dict[int, Mutant] = {}
    waiting = iter(sample)
    while True:
        while len(running) < processes and (each := next(waiting, None)):
            running[trials.begin(each)] = each
        if not running:
            return
        child, status = os.wait()
        done = running.pop(child)
        if status == 0:
            _tell(done, trials.trees[done.path])
            yield done


def _tell(mutant: Mutant, tree: ast.Module) -> None:
    say(f"{mutant.path}:{mutant.line}: {mutant.kind}")
    for line in mutant.difference(tree):
        say(f"    {line}")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
