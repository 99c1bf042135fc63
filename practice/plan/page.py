"""The plan of a practice as its pages and its print show it."""

from __future__ import annotations

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from practice.bridge import plan_value, squad_value
from practice.core.plan import cautions
from practice.core.plan.pdf import BOOKED, TOTAL, PlanLine, PlanSheet
from practice.core.plan.plan import PracticePlan, running_clock
from practice.core.plan.rules import check_plan
from practice.models import Block, Practice
from shared.core.language import Language


def rows_of(found: Practice) -> dict[int, Block]:
    """The blocks by key, with all that a line says of them."""
    blocks = found.blocks.select_related("entry", "unit")
    return {block.pk: block for block in blocks.prefetch_related("entry__castings__player")}


def equipment_of(plan: PracticePlan) -> tuple[str, ...]:
    return tuple(dict.fromkeys(block.equipment for block in plan.blocks if block.equipment))


def plan_sheet(found: Practice, speech: Language) -> PlanSheet:
    """The plan as it is printed on one page."""
    rows, plan = rows_of(found), plan_value(found)
    squad = squad_value(found.team, list(found.team.players.present()))
    booking = plan.booking
    minutes = speech.number(plan.minutes)
    return PlanSheet(
        title=f"{found.team.name} · {date_format(found.date, _('l j F Y'))}, {found.start:%H:%M}",
        where=found.place,
        total=speech.say(BOOKED, minutes=minutes, closes=f"{booking.closes:%H:%M}")
        if booking
        else speech.say(TOTAL, minutes=minutes),
        lines=tuple(
            _plan_line(rows[int(line.block.id)], f"{line.starts:%H:%M}")
            for line in running_clock(plan)
        ),
        ends=f"{plan.ends:%H:%M}",
        equipment=equipment_of(plan),
        warnings=tuple(
            f"{found_.sentence} {found_.source}".strip()
            for found_ in check_plan(plan, squad, speech)
            if found_.code != "no_blocks"
        ),
        cautions=tuple(speech.say(caution.sentence) for caution in cautions.FOR_PLAN),
    )


def _plan_line(block: Block, at: str) -> PlanLine:
    brought = f"[{block.equipment}]" if block.equipment else ""
    parts = [
        str(block.get_kind_display()) if block.title else "",
        block.entry.spoken() if block.entry else "",
        str(block.get_mode_display()) if block.mode else "",
        block.unit.name if block.unit else "",
    ]
    return PlanLine(
        at=at,
        minutes=f"{block.minutes} min",
        title=str(block),
        detail=" · ".join(part for part in parts if part),
        notes=" ".join(part for part in (block.notes, brought) if part),
    )
