"""Changing a practice's plan: order, beginning from another plan, keeping it as a pattern."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

from django.db import transaction
from django.utils.translation import gettext_lazy as _

from practice.bridge import block_value, plan_value, squad_value
from practice.core.plan.plan import TEMPLATES, Block, BlockKind, scaled
from practice.core.plan.rules import check_plan
from practice.core.reps.rep import Mode
from practice.models import Block as BlockRow
from practice.models import PlanPattern, Practice
from practice.plan.length import length_followed
from roster.models import Team
from shared.core.finding import Severity
from shared.core.language import Language
from shared.core.numbers import whole_number
from shared.said import day_said

HALL_CODES: Final = frozenset({"too_long", "too_early", "booking_backwards"})
TEMPLATE_NAMES: Final = {
    "standard": _("A usual practice"),
    "day_before_game": _("The day before a game"),
    "young_players": _("Young players"),
}


class PlanFaultError(ValueError):
    """The plan would not hold; the sentence says why."""


@transaction.atomic
def reorder(practice: Practice, ids: Sequence[int]) -> None:
    """Put the blocks into this order; those not named keep their order behind the others."""
    place = {pk: index for index, pk in enumerate(ids)}
    blocks = sorted(practice.blocks.all(), key=lambda block: place.get(block.pk, len(place)))
    for order, block in enumerate(blocks, start=1):
        block.order = order
    BlockRow.objects.bulk_update(blocks, ["order"])


def fault_of(practice: Practice, language: Language, block: BlockRow | None = None) -> str:
    """What stops this plan: the hall booking, or an error of the block that is being saved."""
    fresh = Practice.objects.prefetch_related("blocks").select_related("team").get(pk=practice.pk)
    plan = plan_value(fresh)
    places = {each.id: f"/blocks/{index}/" for index, each in enumerate(plan.blocks)}
    own = places.get(block.pk, "-") if block else "-"
    for finding in check_plan(plan, squad_value(fresh.team, []), language):
        stops = finding.code in HALL_CODES or finding.place.startswith(own)
        if finding.severity is Severity.SERIOUS and stops:
            return finding.sentence
    return ""


def stop_at_fault(practice: Practice, language: Language, block: BlockRow | None = None) -> None:
    """Raise PlanFaultError where the plan would not hold: inside the transaction that saves it."""
    fault = fault_of(practice, language, block)
    if fault:
        raise PlanFaultError(fault)


def sources(practice: Practice) -> list[tuple[str, list[tuple[str, str]]]]:
    """What a plan can begin from, in groups: our templates, the team's patterns, earlier plans."""
    others = practice.team.practices.exclude(pk=practice.pk).filter(blocks__isnull=False)
    recent = others.distinct().order_by("-date", "-start")[:20]
    groups = [
        (str(_("Templates")), [(f"template-{k}", str(name)) for k, name in TEMPLATE_NAMES.items()]),
        (
            str(_("Patterns of this team")),
            [(f"pattern-{p.pk}", p.name) for p in practice.team.patterns.all()],
        ),
        (str(_("Plans of other practices")), [(f"practice-{p.pk}", _when(p)) for p in recent]),
    ]
    return [(name, choices) for name, choices in groups if choices]


def _when(practice: Practice) -> str:
    """A practice in a list: its day with the weekday, and its beginning."""
    return f"{day_said(practice.date, 'D j M')}, {practice.start:%H:%M}"


@transaction.atomic
def begin_from(practice: Practice, source: str, *, fit: bool, language: Language) -> None:
    """Put another plan's blocks behind the present ones. Raises PlanFaultError, saving nothing.

    With ``fit`` the new blocks share the minutes that the hall booking leaves.
    """
    known = set(practice.team.drills.values_list("pk", flat=True))
    blocks: Sequence[Block] = [
        block if block.drill in known else replace(block, drill=None)
        for block in _blocks_of(practice, source)
    ]
    plan = plan_value(practice)
    if fit and plan.spare is not None:
        try:
            blocks = scaled(blocks, int(plan.spare))
        except ValueError as error:
            raise PlanFaultError(_("The booking leaves no room for these blocks.")) from error
    last = max((block.order for block in practice.blocks.all()), default=0)
    with length_followed(practice):
        BlockRow.objects.bulk_create(
            block_row(practice, last + step, block) for step, block in enumerate(blocks, start=1)
        )
    stop_at_fault(practice, language)


def block_row(practice: Practice, order: int, block: Block) -> BlockRow:
    """A new row for a block of a plan."""
    return BlockRow(
        practice=practice,
        order=order,
        kind=block.kind.value,
        minutes=max(1, round(block.minutes)),
        title=block.title,
        notes=block.notes,
        entry_id=block.play,
        mode=block.mode.value if block.mode else "",
        contact=block.contact,
        equipment=block.equipment,
        drill_id=block.drill if isinstance(block.drill, int) else None,
        unit_id=block.unit if isinstance(block.unit, int) else None,
        runs=[{"mode": run.mode.value, "reps": run.reps, "unit": run.unit} for run in block.runs],
    )


def save_pattern(practice: Practice, name: str) -> PlanPattern:
    """Keep the plan as a pattern: its blocks without plays and units, under a name."""
    kept = [_plain(block_value(block)) for block in practice.blocks.all()]
    pattern, _made = PlanPattern.objects.update_or_create(
        team=practice.team, name=name, defaults={"blocks": kept}
    )
    return pattern


def pattern_of(practice: Practice, source: str) -> PlanPattern | None:
    """The team's pattern that a choice of ``sources`` names; None where it names something else."""
    kind, _dash, key = source.partition("-")
    pk = whole_number(key) if kind == "pattern" else None
    return None if pk is None else practice.team.patterns.filter(pk=pk).first()


def _blocks_of(practice: Practice, source: str) -> tuple[Block, ...]:
    kind, _dash, key = source.partition("-")
    if kind == "template" and key in TEMPLATES:
        return TEMPLATES[key]
    pk = whole_number(key)
    if pk is not None and kind == "pattern":
        pattern = pattern_of(practice, source)
        return tuple(_block(value) for value in pattern.blocks) if pattern else ()
    if pk is not None and kind == "practice":
        other = practice.team.practices.filter(pk=pk).first()
        return _carried(practice.team, other.blocks.all()) if other else ()
    raise PlanFaultError(_("Choose what to begin from."))


def _carried(team: Team, rows: Iterable[BlockRow]) -> tuple[Block, ...]:
    """Blocks of an earlier plan; a play that was dropped meanwhile is left to choose anew."""
    carried = set(team.package.all().carried().values_list("pk", flat=True))
    return tuple(
        block_value(row) if row.entry_id in carried else _block(_plain(block_value(row)))
        for row in rows
    )


def _plain(block: Block) -> dict[str, object]:
    return {
        "kind": block.kind.value,
        "minutes": block.minutes,
        "title": block.title,
        "mode": block.mode.value if block.mode else "",
        "contact": block.contact,
        "equipment": block.equipment,
        "notes": block.notes,
        "drill": block.drill,
    }


def _block(value: dict[str, object]) -> Block:
    mode = str(value.get("mode") or "")
    return Block(
        id=0,
        kind=BlockKind(str(value["kind"])),
        minutes=float(str(value["minutes"])),
        title=str(value.get("title", "")),
        mode=Mode(mode) if mode else None,
        contact=bool(value.get("contact")),
        equipment=str(value.get("equipment", "")),
        notes=str(value.get("notes", "")),
        drill=drill if isinstance(drill := value.get("drill"), int) else None,
    )
