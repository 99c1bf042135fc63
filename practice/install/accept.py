"""An install plan that is accepted: its blocks go into the plans of the practices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, Final

from django.db import transaction
from django.utils import timezone

from practice.bridge import block_value
from practice.core.install.blocks import install_blocks, install_times
from practice.core.install.question import Schedule
from practice.core.plan.plan import Block
from practice.core.plan.slots import with_installs
from practice.install.plan import Question, entries_of
from practice.models import Block as BlockRow
from practice.models import InstallPlan, Practice
from practice.plan.changes import block_row, fault_of
from practice.plan.length import length_followed
from shared.core.language import Language

SLOT_FIELDS: Final = ("kind", "mode", "contact", "equipment", "notes", "unit_id")


@transaction.atomic
def put_into_plans(asked: Question, plan: InstallPlan, language: Language) -> list[Practice]:
    """Write the proposal into the practice plans, play by play, into their open blocks first.

    Blocks of an earlier acceptance make room before. Returns the practices whose hall booking
    is too short for the blocks: these are left as they were.
    """
    schedule = Schedule(entries_of(plan), plan.worth)
    units = {unit.id for unit in asked.ask.units}
    short = []
    for practice in asked.practices:
        times = install_times(asked.ask, schedule, practice.pk)
        made = install_blocks(times, (f"new-{n}" for n in range(len(times))))
        # A unit may have been dissolved since the proposal was made.
        installs = [each if each.unit in units else replace(each, unit=None) for each in made]
        point = transaction.savepoint()
        with length_followed(practice):
            _reopen(practice)
            _write(practice, installs)
        if installs and fault_of(practice, language):
            transaction.savepoint_rollback(point)
            short.append(practice)
        else:
            transaction.savepoint_commit(point)
    plan.accepted_at = timezone.now()
    plan.save(update_fields=["accepted_at"])
    return short


def _reopen(practice: Practice) -> None:
    """Take the proposed blocks out, and give their minutes back to the slots they stood in."""
    proposed = [(block, block.slot) for block in practice.blocks.filter(proposed=True)]
    practice.blocks.filter(proposed=True).delete()
    slots = {block.pk: block for block in practice.blocks.all()}
    given: dict[int, BlockRow] = {}
    for block, taken in proposed:
        if taken is not None:
            key = taken["block"]
            slot = given.setdefault(
                key, slots.get(key) or _slot_again(practice, block.order, taken)
            )
            slot.minutes += taken.get("minutes", block.minutes)  # without: no block outgrew a slot
    for slot in given.values():
        slot.save()


def _slot_again(practice: Practice, order: int, taken: dict[str, Any]) -> BlockRow:
    """A slot that was used up, at its place, with no minute in it yet."""
    kept = {name: taken[name] for name in SLOT_FIELDS}
    return BlockRow(practice=practice, order=order, minutes=0, **kept)


def _write(practice: Practice, installs: Sequence[Block]) -> None:
    rows = {row.pk: row for row in practice.blocks.all()}
    placed = with_installs([block_value(row) for row in rows.values()], installs)
    kept: list[BlockRow] = []
    new: list[BlockRow] = []
    filled: set[object] = set()
    for order, each in enumerate(placed, start=1):
        if each.is_new:
            slot = rows[int(each.slot)] if each.slot is not None else None
            new.append(_new_row(block_row(practice, order, each.block), slot, each.taken))
            if slot is not None and slot.pk not in filled:
                filled.add(slot.pk)
                new[-1].equipment, new[-1].notes = slot.equipment, slot.notes
        else:
            row = rows[int(each.block.id)]
            row.order, row.minutes = order, round(each.block.minutes)
            kept.append(row)
    practice.blocks.exclude(pk__in=[row.pk for row in kept]).delete()
    BlockRow.objects.bulk_update(kept, ["order", "minutes"])
    BlockRow.objects.bulk_create(new)


def _new_row(row: BlockRow, slot: BlockRow | None, taken: int) -> BlockRow:
    row.proposed = True
    if slot is not None:
        row.slot = {
            "block": slot.pk,
            "minutes": taken,
            **{name: getattr(slot, name) for name in SLOT_FIELDS},
        }
    return row
