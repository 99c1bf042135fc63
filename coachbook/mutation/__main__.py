"""`python3 manage.py mutate`: how many small wrong changes to the cores the tests notice."""

from __future__ import annotations

import argparse
import ast
import os
import random
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from coachbook.mutation import reach, trial
from coachbook.mutation.mutators import Mutant, mutants

# Imported before the first fork, so that no child pays for them; none of the project is.
WARM = ("django.test", "hypothesis", "numpy", "pydantic", "scipy.optimize", "pytest_django")


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
        if not _sound(sample, Path(folder)):
            say("The tests fail as they are: mend them first.")
            return 1
        survivors = list(_survivors(sample, trees, Path(folder), options))
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
    parser.add_argument("--seconds", type=int, default=60, help="of the processor, for a run")
    return parser


def _sound(sample: list[Mutant], scratch: Path) -> bool:
    """Whether the tests are green with nothing changed."""
    tests = dict.fromkeys(
        test
        for path in dict.fromkeys(each.path for each in sample)
        for stage in reach.stages(path)
        for test in stage
    )
    return trial.passes(tuple(tests), None, scratch, 3600)


def _survivors(
    sample: list[Mutant],
    trees: dict[str, ast.Module],
    scratch: Path,
    options: argparse.Namespace,
) -> Iterator[Mutant]:
    """Those that no test notices, each told as soon as it is known."""
    running: dict[int, Mutant] = {}
    waiting = iter(sample)
    while True:
        while len(running) < options.processes and (each := next(waiting, None)):
            running[_begin(each, trees[each.path], scratch, options.seconds)] = each
        if not running:
            return
        child, status = os.wait()
        done = running.pop(child)
        if status == 0:
            _tell(done, trees[done.path])
            yield done


def _begin(mutant: Mutant, tree: ast.Module, scratch: Path, seconds: int) -> int:
    """Try a mutant in a child, which ends with 0 where all tests stay green."""
    sys.stdout.flush()
    child = os.fork()
    if child:
        return child
    code = compile(mutant.applied(tree), mutant.path, "exec")
    instead = trial.Instead(mutant.path, code)
    stages = reach.stages(mutant.path)
    os._exit(0 if all(trial.passes(each, instead, scratch, seconds) for each in stages) else 1)


def _tell(mutant: Mutant, tree: ast.Module) -> None:
    say(f"{mutant.path}:{mutant.line}: {mutant.kind}")
    for line in mutant.difference(tree):
        say(f"    {line}")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
