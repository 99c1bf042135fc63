"""The demo club as built: all of it there, the same each time, and fit to be run."""

from __future__ import annotations

import json
from datetime import date

import pytest
from django.core import serializers
from django.core.management import call_command

from coachbook.demo.build import build_demo
from plays.models import Play
from practice.models import Attendance, Game, Practice, Rep
from roster.models import Casting, Player, Team

DAY = date(2026, 11, 25)
WRITTEN = {"received_at", "changed_at"}  # moments of writing, told by the wall clock


@pytest.mark.django_db
def test_the_demo_club_is_whole() -> None:
    build_demo(DAY)
    assert Team.objects.count() == 2
    assert sorted(team.players.count() for team in Team.objects.all()) == [10, 13]
    assert Play.objects.on_shelf().count() == 27
    assert 600 <= Rep.objects.count() <= 800
    assert Game.objects.filter(date__gt=DAY).count() == 4
    weeks = {practice.date.isocalendar()[1] for practice in Practice.objects.filter(date__lt=DAY)}
    assert len(weeks) >= 6


@pytest.mark.django_db
def test_nobody_logs_a_rep_while_absent() -> None:
    build_demo(DAY)
    absent = Attendance.objects.filter(presence="absent")
    away = set(absent.values_list("practice", "player"))
    logged = set(Rep.objects.values_list("practice", "roles__player"))
    assert not away & logged


@pytest.mark.django_db(transaction=True, reset_sequences=True)
def test_the_same_day_gives_the_same_club() -> None:
    build_demo(DAY)
    first = rows()
    call_command("flush", interactive=False, verbosity=0)
    build_demo(DAY)
    assert len(first) > 800
    assert [strip(row) for row in rows()] == [strip(row) for row in first]


def rows() -> list[dict[str, object]]:
    models = (Team, Player, Casting, Practice, Game, Rep)
    found = [row for model in models for row in model._default_manager.order_by("pk")]
    made: list[dict[str, object]] = json.loads(serializers.serialize("json", found))
    return made


def strip(row: dict[str, object]) -> dict[str, object]:
    """Without the moments of writing."""
    fields = row["fields"]
    assert isinstance(fields, dict)
    return {**row, "fields": {k: v for k, v in fields.items() if k not in WRITTEN}}
