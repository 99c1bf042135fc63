"""How long the clock, the defence and the whole check take on the demo plays.

Processor time of one core, the best of some repeats. The whole library is every demo play, four age
groups and three defences, with all counters and findings.
"""

from __future__ import annotations

from functools import partial
from pathlib import Path
from time import process_time
from typing import Final, TextIO

import numpy as np

from coachbook.benchmarks.repeats import best
from plays.core.check.bands import bands
from plays.core.check.check import Tactic, check, check_many
from plays.core.check.samples import sampled
from plays.core.defence.verdict import against
from plays.core.document.file import read_play
from plays.core.motion.clock import timeline
from plays.core.motion.pace import pace_of
from plays.core.play import AgeGroup, Play

FOLDER: Final = Path(__file__).parents[1] / "demo" / "plays"
AGES: Final = (AgeGroup.U12, AgeGroup.U14, AgeGroup.U16, AgeGroup.ADULT)
DEFENCES: Final = (Tactic.CHASE, Tactic.SWITCH, Tactic.JUMP)
HZ: Final = 25.0
REPEATS: Final = 3
quickest = partial(best, repeats=REPEATS, clock=process_time)


def run(out: TextIO) -> None:
    """Measures and writes one line for each; the aims stand beside the times."""
    plays = [read_play(file.read_bytes()) for file in sorted(FOLDER.glob("*.json"))]
    pace = pace_of(AgeGroup.U14)
    lines = [timeline(play, pace) for play in plays]
    n = len(plays)
    table: list[tuple[str, float, str]] = [
        ("timeline", quickest(lambda: [timeline(play, pace) for play in plays]) / n, ""),
        (
            "timeline, places and speeds at 25 Hz",
            quickest(lambda: positions(plays)) / n,
            "under 3 ms",
        ),
        (
            "samples for an animation",
            quickest(lambda: [sampled(line, HZ) for line in lines]) / n,
            "",
        ),
        (
            "defence, one tactic",
            quickest(lambda: [against([x], [Tactic.CHASE]) for x in lines]) / n,
            "",
        ),
        (
            "check, one defence",
            quickest(lambda: [check(p, age=AgeGroup.U14) for p in plays]) / n,
            "under 60 ms",
        ),
        (
            "bands of a check, 128 draws",
            quickest(lambda: [bands(p, Tactic.CHASE, pace) for p in plays]) / n,
            "after the page",
        ),
    ]
    out.writelines(
        f"{name:40}{1000 * seconds:9.2f} ms a play  {aim}\n" for name, seconds, aim in table
    )
    seconds = quickest(lambda: library(plays))
    checks = n * len(AGES) * len(DEFENCES)
    out.write(f"{f'whole library: {checks} checks':40}{seconds:9.2f} s         under 2 s\n")


def positions(plays: list[Play]) -> None:
    """Where everybody is, from the document on."""
    for play in plays:
        line = timeline(play, pace_of(AgeGroup.U14))
        times = np.arange(0.0, line.end, 1.0 / HZ)
        line.places(times)
        line.speeds(times)


def library(plays: list[Play]) -> None:
    """Every play, age group and defence."""
    for play in plays:
        check_many(play, ages=AGES, defences=DEFENCES)
