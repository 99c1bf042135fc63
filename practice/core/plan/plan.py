"""A practice plan: blocks in order with minutes, the running clock, and the hall booking.

Minutes are real minutes; moments are aware. ``plan_rules`` says what is wrong with a plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum
from typing import Final

from practice.core.instants import later, minutes_between
from practice.core.reps.rep import Id, Mode


class BlockKind(StrEnum):
    WARM_UP = "warm_up"
    SKILL = "skill"
    INSTALL = "install"
    WALK_THROUGH = "walk_through"
    LIVE = "live"
    SHOOTING = "shooting"
    COOL_DOWN = "cool_down"
    FREE = "free"


INSTALLING: Final = (BlockKind.INSTALL, BlockKind.WALK_THROUGH)


@dataclass(frozen=True, slots=True)
class PlannedRun:
    """Reps that a block is meant for: how they are run, and by which five."""

    mode: Mode
    reps: int
    unit: Id | None = None


@dataclass(frozen=True, slots=True)
class Block:
    """One block of a plan. ``play``, ``mode``, ``unit`` and ``runs`` are for install blocks.

    ``mode`` and ``unit`` are those that the block begins with; ``runs`` tells all of them, where
    the block was made from an install plan.
    """

    id: Id
    kind: BlockKind
    minutes: float
    title: str = ""
    play: Id | None = None
    mode: Mode | None = None
    unit: Id | None = None
    contact: bool = False
    equipment: str = ""
    notes: str = ""
    runs: tuple[PlannedRun, ...] = ()
    drill: Id | None = None

    @property
    def is_live(self) -> bool:
        """With contact or live defence: limited players stay out of it."""
        modes = {self.mode, *(run.mode for run in self.runs)}
        return self.contact or self.kind is BlockKind.LIVE or Mode.LIVE in modes

    @property
    def is_open(self) -> bool:
        """Whether it only keeps time for plays: a slot of a pattern, still without one."""
        return (
            self.kind in INSTALLING and self.play is None and self.drill is None and not self.title
        )


@dataclass(frozen=True, slots=True)
class Booking:
    """When the hall is ours."""

    opens: datetime
    closes: datetime

    @property
    def minutes(self) -> float:
        return minutes_between(self.opens, self.closes)


@dataclass(frozen=True, slots=True)
class PracticePlan:
    starts: datetime
    blocks: tuple[Block, ...] = ()
    booking: Booking | None = None

    @property
    def minutes(self) -> float:
        """All blocks together; a block with a senseless length counts as none."""
        return sum(max(0.0, block.minutes) for block in self.blocks)

    @property
    def ends(self) -> datetime:
        return later(self.starts, self.minutes)

    @property
    def spare(self) -> float | None:
        """Minutes left in the hall after the last block; negative when it is too long."""
        return None if self.booking is None else minutes_between(self.ends, self.booking.closes)


@dataclass(frozen=True, slots=True)
class ClockLine:
    """A block on the running clock; ``from_minute`` and ``to_minute`` count from the start."""

    block: Block
    starts: datetime
    ends: datetime
    from_minute: float
    to_minute: float


def running_clock(plan: PracticePlan) -> tuple[ClockLine, ...]:
    """When each block begins and ends."""
    lines, minute = [], 0.0
    for block in plan.blocks:
        after = minute + max(0.0, block.minutes)
        lines.append(
            ClockLine(block, later(plan.starts, minute), later(plan.starts, after), minute, after)
        )
        minute = after
    return tuple(lines)


@dataclass(frozen=True, slots=True)
class CourtView:
    """What the court page shows at a moment. ``line`` is None before, after, and when empty."""

    line: ClockLine | None
    following: tuple[ClockLine, ...]
    left_in_block: float
    left_in_practice: float
    until_start: float


def at_moment(plan: PracticePlan, moment: datetime) -> CourtView:
    """The present block, what comes after it, and the minutes left."""
    minute = minutes_between(plan.starts, moment)
    lines = running_clock(plan)
    present = next((line for line in lines if line.from_minute <= minute < line.to_minute), None)
    return CourtView(
        line=present,
        following=tuple(line for line in lines if line.from_minute > minute),
        left_in_block=0.0 if present is None else present.to_minute - minute,
        left_in_practice=min(plan.minutes, max(0.0, plan.minutes - minute)),
        until_start=max(0.0, -minute),
    )


def moved(plan: PracticePlan, block: Id, to: int) -> PracticePlan:
    """The plan with a block at place ``to`` (0 first); beyond the ends is the end.

    Raises KeyError for a block that is not in the plan.
    """
    chosen = _block(plan, block)
    others = [other for other in plan.blocks if other.id != block]
    others.insert(max(0, min(to, len(others))), chosen)
    return replace(plan, blocks=tuple(others))


def without(plan: PracticePlan, block: Id) -> PracticePlan:
    """The plan without a block. Raises KeyError."""
    _block(plan, block)
    return replace(plan, blocks=tuple(other for other in plan.blocks if other.id != block))


def scaled(blocks: Sequence[Block], minutes: int) -> tuple[Block, ...]:
    """The blocks with whole minutes that add up to ``minutes``, in the old proportions.

    Largest remainder; every block keeps at least one minute. Raises ValueError when there
    are more blocks than minutes.
    """
    if len(blocks) > minutes:
        raise ValueError(f"{len(blocks)} blocks do not fit into {minutes} minutes")
    total = sum(block.minutes for block in blocks) or 1.0  # of none, each gets as much
    whole = whole_minutes([block.minutes * minutes / total for block in blocks], minutes)
    return tuple(replace(block, minutes=size) for block, size in zip(blocks, whole, strict=True))


def whole_minutes(wanted: Sequence[float], total: int) -> list[int]:
    """Whole minutes near those wanted that add up to ``total``, each at least one.

    Largest remainder; the first of equals. ``total`` must not be less than their number.
    """
    whole = [max(1, int(share)) for share in wanted]
    while sum(whole) != total:
        step = 1 if sum(whole) < total else -1
        movable = [index for index, size in enumerate(whole) if step > 0 or size > 1]
        index = max(movable, key=lambda i: (step * (wanted[i] - whole[i]), -i))
        whole[index] += step
    return whole


def _block(plan: PracticePlan, block: Id) -> Block:
    return {other.id: other for other in plan.blocks}[block]


# Our own templates: shapes to begin from, with titles for the coach to change.
_WARM, _COOL = BlockKind.WARM_UP, BlockKind.COOL_DOWN
TEMPLATES: Final[dict[str, tuple[Block, ...]]] = {
    "standard": (
        Block("a", _WARM, 12),
        Block("b", BlockKind.SKILL, 10),
        Block("c", BlockKind.INSTALL, 10),
        Block("d", BlockKind.SHOOTING, 8),
        Block("e", BlockKind.INSTALL, 10),
        Block("f", BlockKind.LIVE, 10, contact=True),
        Block("g", _COOL, 5),
    ),
    "day_before_game": (
        Block("a", _WARM, 10),
        Block("b", BlockKind.WALK_THROUGH, 10, mode=Mode.WALK_THROUGH),
        Block("c", BlockKind.INSTALL, 10, mode=Mode.HALF_SPEED),
        Block("d", BlockKind.SHOOTING, 10),
        Block("e", _COOL, 5),
    ),
    "young_players": (
        Block("a", _WARM, 8),
        Block("b", BlockKind.SKILL, 8),
        Block("c", BlockKind.SHOOTING, 7),
        Block("d", BlockKind.INSTALL, 7),
        Block("e", BlockKind.LIVE, 10, contact=True),
        Block("f", BlockKind.FREE, 5),
        Block("g", _COOL, 5),
    ),
}
