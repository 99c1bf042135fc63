"""The demo club is the same each time, but for the moments of writing."""

from __future__ import annotations

import json

import pytest
from django.core import serializers
from django.core.management import call_command

from coachbook.demo.build import build_demo
from practice.models import CalledPlay, CalledRole, Game, HeldRep, Practice, Rep, SquadMark
from roster.models import Casting, Player, Team
from tests.cast import DEMO_DAY as DAY

WRITTEN = {"received_at", "changed_at"}  # moments of writing, told by the wall clock


@pytest.mark.django_db(transaction=True, reset_sequences=True)
def test_the_same_day_gives_the_same_club() -> None:
    build_demo(DAY)
    first = rows()
    call_command("flush", interactive=False, verbosity=0)
    build_demo(DAY)
    assert len(first) > 800
    assert [strip(row) for row in rows()] == [strip(row) for row in first]


def rows() -> list[dict[str, object]]:
    models = (
        Team,
        Player,
        Casting,
        Practice,
        Game,
        Rep,
        SquadMark,
        CalledPlay,
        CalledRole,
        HeldRep,
    )
    found = [row for model in models for row in model._default_manager.order_by("pk")]
    made: list[dict[str, object]] = json.loads(serializers.serialize("json", found))
    return made


def strip(row: dict[str, object]) -> dict[str, object]:
    """Without the moments of writing."""
    fields = row["fields"]
    assert isinstance(fields, dict)
    return {**row, "fields": {k: v for k, v in fields.items() if k not in WRITTEN}}
