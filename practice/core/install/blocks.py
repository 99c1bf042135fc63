"""From a schedule to the blocks of a practice plan.

Reps become whole minutes; a play has one block, whose units and modes follow each other in the
order of the steps, and plays that are begun come first, while everybody is fresh. Alternating
plays is for variety only (see ``question.VARIETY``), so nothing is split up for it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from practice.core.install.question import Ask, Schedule, ScheduleEntry
from practice.core.plan.plan import Block, BlockKind, PlannedRun
from practice.core.reps.rep import PRACTICE_MODES, Id, Mode


@dataclass(frozen=True, slots=True)
class InstallTime:
    """Everything that is planned for one play in one practice, in the order of the steps."""

    play: Id
    is_new: bool
    entries: tuple[ScheduleEntry, ...]
    minutes: float


def install_times(ask: Ask, schedule: Schedule, practice: Id) -> tuple[InstallTime, ...]:
    """The plays of one practice: new ones first, then by priority, as the package has them."""
    setup = {
        carried.play: ask.rules.setup_minutes
        if carried.setup_minutes is None
        else carried.setup_minutes
        for carried in ask.plays
    }
    priority = {carried.play: carried.priority for carried in ask.plays}
    known = {touch.play for touch in ask.history} | _earlier(ask, schedule, practice)
    own: dict[Id, list[ScheduleEntry]] = {}
    for entry in schedule.entries:
        if entry.practice == practice:
            own.setdefault(entry.play, []).append(entry)
    times = [
        InstallTime(
            play,
            play not in known,
            tuple(sorted(entries, key=lambda entry: PRACTICE_MODES.index(entry.mode))),
            setup.get(play, 0.0) + sum(e.reps * ask.rules.minutes(e.mode) for e in entries),
        )
        for play, entries in own.items()
    ]
    return tuple(sorted(times, key=lambda time: (not time.is_new, -priority.get(time.play, 0.0))))


def install_blocks(times: Iterable[InstallTime], ids: Iterable[Id]) -> tuple[Block, ...]:
    """One block for each play, in whole minutes with its set-up, that tells all its runs.

    Raises ValueError when there are fewer ids than blocks.
    """
    fresh = iter(ids)
    blocks = []
    for time in times:
        key = next(fresh, None)
        if key is None:
            raise ValueError("there are more blocks than ids")
        blocks.append(_block(key, time))
    return tuple(blocks)


def _block(key: Id, time: InstallTime) -> Block:
    first = time.entries[0]
    return Block(
        key,
        BlockKind.INSTALL,
        max(1, math.ceil(time.minutes - 1e-9)),
        play=time.play,
        mode=first.mode,
        unit=first.unit,
        contact=any(entry.mode is Mode.LIVE for entry in time.entries),
        runs=tuple(PlannedRun(entry.mode, entry.reps, entry.unit) for entry in time.entries),
    )


def _earlier(ask: Ask, schedule: Schedule, practice: Id) -> set[Id]:
    starts = {slot.practice: slot.starts for slot in ask.slots}
    here = starts[practice]
    return {e.play for e in schedule.entries if e.practice in starts and starts[e.practice] < here}
