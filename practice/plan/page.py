"""The plan of a practice as its pages and its print show it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from plays.values import read_ahead
from practice.bridge import plan_value, runs_of, squad_value
from practice.core.install.question import FIRSTS, SECONDS
from practice.core.plan import cautions
from practice.core.plan.pdf import BOOKED, TOTAL, PlanLine, PlanSheet
from practice.core.plan.plan import PlannedRun, PracticePlan, running_clock
from practice.core.plan.rules import check_plan
from practice.core.reps.rep import Id
from practice.models import Block, Drill, ModeChoice, Practice
from roster.models import PackagePlay
from shared.core.language import Language


@dataclass(frozen=True, slots=True)
class RunTold:
    """Reps that a block is meant for: how they are run, how many, and by whom."""

    mode: str
    mode_name: str
    reps: int
    unit: str
    unit_name: str


def rows_of(found: Practice) -> dict[int, Block]:
    """The blocks by key, with all that a line says of them."""
    blocks = found.blocks.select_related("entry__revision", "unit", "drill")
    blocks = blocks.defer("entry__revision__document", "drill__picture")
    rows = {block.pk: block for block in blocks.prefetch_related("entry__castings__player")}
    read_ahead(block.entry.revision for block in rows.values() if block.entry)
    if any(block.runs for block in rows.values()):
        units: dict[Id, str] = {unit.pk: unit.name for unit in found.team.units.all()}
        units |= {FIRSTS.id: _("First five"), SECONDS.id: _("Second five")}
        for block in rows.values():
            block.told = [_told(run, units) for run in runs_of(block)]
    return rows


def _told(run: PlannedRun, units: Mapping[Id, str]) -> RunTold:
    unit = "" if run.unit is None else run.unit
    mode = str(ModeChoice(run.mode.value).label)
    return RunTold(run.mode.value, mode, run.reps, str(unit), units.get(unit, ""))


def equipment_of(plan: PracticePlan) -> tuple[str, ...]:
    return tuple(dict.fromkeys(block.equipment for block in plan.blocks if block.equipment))


def plan_sheet(found: Practice, speech: Language) -> PlanSheet:
    """The plan as it is printed on one page."""
    rows, plan = rows_of(found), plan_value(found)
    squad = squad_value(found.team, list(found.team.players.present()))
    pictures = _pictures(rows.values())
    booking = plan.booking
    minutes = speech.number(plan.minutes)
    return PlanSheet(
        title=f"{found.team.name} · {date_format(found.date, _('l j F Y'))}, {found.start:%H:%M}",
        where=found.place,
        total=speech.say(BOOKED, minutes=minutes, closes=f"{booking.closes:%H:%M}")
        if booking
        else speech.say(TOTAL, minutes=minutes),
        lines=tuple(
            _plan_line(rows[int(line.block.id)], f"{line.starts:%H:%M}", pictures)
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


def _pictures(blocks: Iterable[Block]) -> dict[int, bytes]:
    """The pictures of the drills that these blocks have, by the keys of the drills."""
    drawn = [block.drill.pk for block in blocks if block.drill and block.drill.picture_mark]
    rows = Drill.objects.filter(pk__in=drawn).values_list("pk", "picture")
    return {pk: bytes(picture) for pk, picture in rows}


def _plan_line(block: Block, at: str, pictures: Mapping[int, bytes]) -> PlanLine:
    brought = f"[{block.equipment}]" if block.equipment else ""
    parts = [
        str(block.get_kind_display()) if block.title else "",
        _called(block.entry) if block.entry else "",
        *_how(block),
    ]
    return PlanLine(
        at=at,
        minutes=f"{block.minutes} min",
        title=str(block),
        detail=" · ".join(part for part in parts if part),
        notes=" ".join(part for part in (block.notes, brought) if part),
        text=block.drill.text if block.drill else "",
        picture=pictures.get(block.drill_id or 0, b""),
    )


def _called(entry: PackagePlay) -> str:
    further = ", ".join(entry.further)
    also = _("also %(calls)s") % {"calls": further} if further else ""
    return " ".join(filter(None, (entry.spoken(), also)))


def _how(block: Block) -> list[str]:
    """How a block is run, in a few words: each run, or its mode and unit."""
    if block.told:
        return [f"{run.reps} × {run.mode_name} {run.unit_name}".strip() for run in block.told]
    mode = str(block.get_mode_display()) if block.mode else ""
    return [mode, block.unit.name if block.unit else ""]
