"""Where the blocks of an install plan go in a practice that is planned already.

A pattern keeps time for plays in open blocks ("install, 10 minutes", no play yet). What is to
be installed goes there, in order; what is too long for every one of them makes one longer that
is still empty, so that no slot stands open while plays stand elsewhere. The rest stands behind
it, or else right after the warm-up, while everybody is fresh and before anything live (common
practice).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from practice.core.plan.plan import Block, BlockKind
from practice.core.reps.rep import Id


@dataclass(frozen=True, slots=True)
class PlacedBlock:
    """A block in its new place. ``slot`` is the open block of which it takes ``taken`` minutes.

    A block that was there before keeps its id; an open one that is used in part, less minutes.
    """

    block: Block
    slot: Id | None = None
    taken: int = 0
    is_new: bool = False


def with_installs(blocks: Sequence[Block], installs: Sequence[Block]) -> tuple[PlacedBlock, ...]:
    """The whole plan with these blocks in it. Minutes given to slots are taken from them.

    An open block with no minute left is not in the answer.
    """
    left = {block.id: int(block.minutes) for block in blocks if block.is_open}
    inside: dict[Id, list[PlacedBlock]] = {key: [] for key in left}
    too_long: list[Block] = []
    for block in installs:
        slot = next((key for key, minutes in left.items() if minutes >= block.minutes), None)
        if slot is None:
            too_long.append(block)
        else:
            taken = int(block.minutes)
            inside[slot].append(PlacedBlock(block, slot, taken, is_new=True))
            left[slot] -= taken
    empty = [key for key, those in inside.items() if not those and left[key]]
    for key, block in zip(empty, too_long, strict=False):
        inside[key].append(PlacedBlock(block, key, left[key], is_new=True))
        left[key] = 0
    outside = too_long[len(empty) :]
    placed: list[PlacedBlock] = []
    for block in blocks:
        placed += inside.get(block.id, [])
        rest = left.get(block.id, block.minutes)
        if rest >= 1:
            placed.append(PlacedBlock(replace(block, minutes=rest)))
    at = _place(placed)
    return (*placed[:at], *(PlacedBlock(block, is_new=True) for block in outside), *placed[at:])


def _place(placed: Sequence[PlacedBlock]) -> int:
    """Where that goes for which no slot has room, as an index."""
    kinds = [each.block.kind for each in placed]
    filled = [index for index, each in enumerate(placed) if each.is_new]
    if filled:
        return filled[-1] + 1
    if BlockKind.WARM_UP in kinds:
        return len(kinds) - kinds[::-1].index(BlockKind.WARM_UP)
    return kinds.index(BlockKind.COOL_DOWN) if BlockKind.COOL_DOWN in kinds else len(kinds)
