"""Between the rows of the database and the values that the practice core computes with."""

from __future__ import annotations

from datetime import date, datetime, time

from django.utils import timezone

from plays.core.play import AgeGroup
from practice.core.plan.plan import Block, BlockKind, Booking, PlannedRun, PracticePlan
from practice.core.plan.rules import PlanSquad
from practice.core.reps.rep import Mode
from practice.models import Block as BlockRow
from practice.models import Practice
from roster.bridge import names_of
from roster.models import Availability, Player, Team


def moment(day: date, at: time) -> datetime:
    """A time of day in the club's time zone."""
    return timezone.make_aware(datetime.combine(day, at))


def plan_value(practice: Practice) -> PracticePlan:
    """A practice's plan; its blocks should be prefetched."""
    booking = None
    if practice.hall_until is not None:
        opens = practice.hall_from or practice.start
        booking = Booking(moment(practice.date, opens), moment(practice.date, practice.hall_until))
    return PracticePlan(
        starts=moment(practice.date, practice.start),
        blocks=tuple(block_value(block) for block in practice.blocks.all()),
        booking=booking,
    )


def block_value(block: BlockRow) -> Block:
    return Block(
        id=block.pk,
        kind=BlockKind(block.kind),
        minutes=block.minutes,
        title=block.title,
        play=block.entry_id,
        mode=Mode(block.mode) if block.mode else None,
        unit=block.unit_id,
        contact=block.contact,
        equipment=block.equipment,
        notes=block.notes,
        runs=runs_of(block),
        drill=block.drill_id,
    )


def runs_of(block: BlockRow) -> tuple[PlannedRun, ...]:
    """The reps that an install plan meant a block for."""
    return tuple(PlannedRun(Mode(run["mode"]), run["reps"], run["unit"]) for run in block.runs)


def squad_value(team: Team, players: list[Player]) -> PlanSquad:
    """What a plan is checked against."""
    return PlanSquad(
        age_group=AgeGroup(team.age_group),
        names=names_of(players).players,
        limited=frozenset(p.pk for p in players if p.availability == Availability.LIMITED),
        out=frozenset(p.pk for p in players if p.availability == Availability.OUT),
    )
