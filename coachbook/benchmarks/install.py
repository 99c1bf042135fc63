"""How quickly readiness, calibration and the install schedule are computed, and how well.

Everything is measured in one run on the same drawn season and the same question: the grid
against the formula cell by cell, the instant schedule against rotating the plays and against
no more reps, and the improved one against its own bound. Times are the best of some repeats.
"""

from __future__ import annotations

import tracemalloc
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import partial
from random import Random
from time import perf_counter, process_time
from typing import Final, TextIO

import numpy as np

from coachbook.benchmarks.repeats import best
from plays.core.play import ROLES
from practice.core.install.build import model
from practice.core.install.improve import improve
from practice.core.install.model import Indices, Model, as_reps, minutes_used, worth
from practice.core.install.outlook import outlook
from practice.core.install.programme import Programme
from practice.core.install.question import (
    Ask,
    PlayToInstall,
    PracticeSlot,
    Schedule,
    ScheduleEntry,
    Unit,
)
from practice.core.install.rework import instant
from practice.core.readiness.assumptions import Assumptions
from practice.core.readiness.calibration import calibrate
from practice.core.readiness.cell import readiness
from practice.core.readiness.grid import grid, ledger, over_time, standings
from practice.core.reps.log import merge
from practice.core.reps.rep import PRACTICE_MODES, Id, Rep, Touch, as_cast, touches
from shared.core.language import ENGLISH

NOW: Final = datetime(2026, 11, 25, 18, 0, tzinfo=UTC)
PLAYERS: Final[tuple[Id, ...]] = tuple(f"player {number}" for number in range(15))
REPEATS: Final = 3
SECONDS: Final = 15.0


def run(out: TextIO) -> None:
    """Measures and writes a table."""
    _grids(out)
    _log(out)
    _calibration(out)
    _schedule(out)


def drawn_reps(count: int, plays: int, practices: int, seed: int) -> list[Rep]:
    """Reps spread over practices, each with five players in five roles."""
    chance = Random(seed)  # noqa: S311 (a drawn season, no secret)
    made = []
    for number in range(count):
        practice = chance.randrange(practices)
        at = NOW - timedelta(days=2 * (practices - practice), seconds=-number % 5400)
        cast = as_cast(dict(zip(ROLES, chance.sample(PLAYERS, 5), strict=True)))
        play, mode = f"play {chance.randrange(plays)}", chance.choice(PRACTICE_MODES)
        clean = chance.random() < 0.8
        erred = None if clean else chance.choice(ROLES)
        made.append(Rep(f"rep {number}", practice, play, mode, at, cast, clean=clean, erred=erred))
    return made


def question(seed: int = 1, plays: int = 12, practices: int = 10) -> Ask:
    """15 players in three units, all plays new, absences at every third practice."""
    chance = Random(seed)  # noqa: S311 (a drawn question, no secret)
    fives = [PLAYERS[5 * number : 5 * number + 5] for number in range(3)]
    carried = []
    for number in range(plays):
        depths = [chance.sample(five, 5) for five in fives]
        cast = {role: tuple(depth[i] for depth in depths) for i, role in enumerate(ROLES)}
        carried.append(PlayToInstall(f"play {number}", cast, chance.choice((0.5, 1.0, 1.0, 2.0))))
    slots = tuple(
        PracticeSlot(
            number,
            NOW - timedelta(days=2 * (practices - number) - 1),
            22.0,
            frozenset(chance.sample(PLAYERS, 2)) if number % 3 == 0 else frozenset(),
        )
        for number in range(practices)
    )
    units = tuple(Unit(f"unit {number}", five) for number, five in enumerate(fives))
    return Ask(NOW, slots, tuple(carried), PLAYERS, units)


def _grids(out: TextIO) -> None:
    plays = tuple(f"play {number}" for number in range(40))
    out.write("readiness, 15 players x 40 plays x 5 roles, 60 practices\n")
    for count in (700, 3000):
        history = touches(drawn_reps(count, 40, 60, seed=count))
        book = ledger(history, PLAYERS, plays, Assumptions())
        summed = best(partial(ledger, history, PLAYERS, plays, Assumptions()), REPEATS)
        one = best(partial(grid, book, NOW), REPEATS)
        marks = best(partial(standings, book, NOW), REPEATS)
        days = [NOW + timedelta(days=day) for day in range(60)]
        curves = best(partial(over_time, book, days), REPEATS)
        out.write(
            f"  {count} reps: sum up {1000 * summed:.1f} ms, a date {1000 * one:.2f} ms, "
            f"marks {1000 * marks:.1f} ms, 60 dates {1000 * curves:.1f} ms\n"
        )
    cells = [(who, play, role) for who in PLAYERS[:2] for play in plays[:5] for role in ROLES]
    began = perf_counter()
    for cell in cells:
        readiness(history, cell, NOW, Assumptions())
    each = (perf_counter() - began) / len(cells)
    out.write(
        f"  the same by the formula, cell by cell: {3000 * each:.1f} s, "
        f"{3000 * each / (summed + one):.0f} times as long\n"
    )


def _log(out: TextIO) -> None:
    reps = drawn_reps(3000, 40, 60, seed=4)
    chance = Random(4)  # noqa: S311 (as above)
    batches = [chance.sample(reps, 500) for _ in range(12)] + [reps]
    took = best(lambda: merge(*batches), REPEATS)
    sent = sum(map(len, batches))
    out.write(f"merging {sent} sent taps of 3000 reps: {1000 * took:.0f} ms\n")


def _calibration(out: TextIO) -> None:
    history: list[Touch] = list(touches(drawn_reps(700, 10, 40, seed=6)))
    began = perf_counter()
    found = calibrate(history, Assumptions(), ENGLISH)
    took = perf_counter() - began
    out.write(f"calibrating {found.graded} graded reps, walk-forward: {took:.1f} s\n")
    if found.scores is not None:
        named = {
            "fitted": found.scores.fitted,
            "defaults": found.scores.defaults,
            "player rate": found.scores.player_rate,
            "last three": found.scores.last_three,
        }
        out.writelines(
            f"  {name:12} log-loss {score.log_loss:.4f}  Brier {score.brier:.4f}\n"
            for name, score in named.items()
        )
    out.write(f"  (results drawn by a coin) {found.sentence}\n")


def _schedule(out: TextIO) -> None:
    ask = question()
    model_ = model(ask)
    began = process_time()
    plan = instant(ask)
    processor = process_time() - began
    took = best(lambda: instant(ask), REPEATS)
    rotated = worth(model_, rotation(model_))
    out.write("schedule, 12 plays x 15 players x 10 practices of 22 minutes, all plays new\n")
    out.write(f"  no more reps         {worth(model_, np.zeros_like(model_.fixed)):8.3f}\n")
    out.write(f"  plays in rotation    {rotated:8.3f}\n")
    reps = sum(entry.reps for entry in plan.entries)
    out.write(
        f"  instant              {plan.worth:8.3f}  {took:.2f} s ({processor:.2f} s processor), "
        f"{reps} reps\n"
    )
    columns, rows = Programme(model_).rows.size
    tracemalloc.start()
    began = perf_counter()
    better = improve(ask, SECONDS, perf_counter)
    took = perf_counter() - began
    peak = tracemalloc.get_traced_memory()[1] / 2**20
    tracemalloc.stop()
    out.write(
        f"  improved             {better.schedule.worth:8.3f}  {took:.1f} s; bound "
        f"{better.bound:.3f}, gap {100 * (better.gap or 0):.1f} %, pieces overrate it by "
        f"{better.approximation:.3f}\n"
        f"  the programme has {columns} columns and {rows} rows; Python's peak {peak:.0f} MB\n"
    )
    ready = [one.ready for one in outlook(ask, better.schedule, {}, ENGLISH)]
    out.write(f"  ready by game day: {sum(ready)} of {len(ready)} plays\n")


def rotation(model_: Model) -> Indices:
    """The plain plan: practice by practice the next plays in turn, steps first, all units."""
    plan = Schedule((), 0.0)
    turn = 0
    for slot in model_.slots:
        idle = 0
        while idle < len(model_.ask.plays):
            play = model_.ask.plays[turn % len(model_.ask.plays)].play
            turn += 1
            grown = _with_turn(model_, plan, slot, play)
            idle = idle + 1 if grown is None else 0
            plan = grown or plan
    return as_reps(model_, plan.entries)


def _with_turn(model_: Model, plan: Schedule, slot: PracticeSlot, play: Id) -> Schedule | None:
    """The next step of one play for every unit, or None where the minutes are gone."""
    before = {entry.practice for entry in plan.entries if entry.play == play}
    if slot.practice in before:
        return None
    mode = PRACTICE_MODES[min(len(before), 2)]
    added = tuple(
        ScheduleEntry(slot.practice, play, unit.id, mode, model_.ask.rules.least_reps)
        for unit in model_.ask.units
    )
    grown = replace(plan, entries=(*plan.entries, *added))
    used = minutes_used(model_, as_reps(model_, grown.entries)).sum(axis=0)
    return grown if (used <= model_.room + 1e-9).all() else None
