"""From a schedule to the blocks of a practice plan.

Reps become whole minutes; units and modes of one play follow each other in the order of the
steps, and plays that are begun come first, while everybody is fresh. Alternating plays is
for variety only (see ``schedule.VARIETY``), so nothing is split up for it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from practice.core.install.question import Ask, Schedule, ScheduleEntry
from practice.core.plan.plan import Block, BlockKind, whole_minutes
from practice.core.reps.rep import PRACTICE_MODES, Id, Mode


@dataclass(frozen=True, slots=True)
class InstallTime:
    """Everything that is planned for one play in one practice, in the order of the steps."""

    play: Id
    is_new: bool
    entries: tuple[ScheduleEntry, ...]
    minutes: float

    @property
    def reps(self) -> int:
        return sum(entry.reps for entry in self.entries)


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
    """One block for each play, mode and unit, in whole minutes with the set-up shared out.

    Raises ValueError when there are fewer ids than blocks.
    """
    fresh = iter(ids)
    blocks = []
    for time in times:
        shares = _minutes(time)
        for entry, minutes in zip(time.entries, shares, strict=True):
            key = next(fresh, None)
            if key is None:
                raise ValueError("there are more blocks than ids")
            blocks.append(_block(key, entry, minutes))
    return tuple(blocks)


def _block(key: Id, entry: ScheduleEntry, minutes: int) -> Block:
    return Block(
        key,
        BlockKind.INSTALL,
        minutes,
        play=entry.play,
        mode=entry.mode,
        unit=entry.unit,
        contact=entry.mode is Mode.LIVE,
    )


def _minutes(time: InstallTime) -> list[int]:
    """Whole minutes that add up to the play's time rounded up, at least one for each entry."""
    total = max(len(time.entries), math.ceil(time.minutes - 1e-9))
    return whole_minutes([total * entry.reps / time.reps for entry in time.entries], total)


def _earlier(ask: Ask, schedule: Schedule, practice: Id) -> set[Id]:
    starts = {slot.practice: slot.starts for slot in ask.slots}
    here = starts[practice]
    return {e.play for e in schedule.entries if e.practice in starts and starts[e.practice] < here}
