"""The demo club as built: all of it there, the same each time, and fit to be run."""

from __future__ import annotations

import json
from datetime import date

import pytest
from django.core import serializers
from django.core.management import call_command

from coachbook.demo.build import build_demo
from plays.models import Play
from plays.values import play_value
from practice.models import (
    Attendance,
    CalledPlay,
    CalledRole,
    Game,
    HeldRep,
    Practice,
    Rep,
    SquadMark,
)
from practice.reps.called import looks_of
from roster.models import Casting, PackagePlay, Player, Team

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


@pytest.mark.django_db
def test_eight_games_have_been_played_by_who_was_there() -> None:
    build_demo(DAY)
    games = Game.objects.filter(date__lt=DAY)
    assert games.count() == 8
    assert all(10 <= game.called.counted().count() <= 20 for game in games)
    out = set(SquadMark.objects.filter(is_out=True).values_list("game", "player"))
    assert out
    assert not out & set(CalledRole.objects.values_list("called__game", "player"))
    for one in CalledPlay.objects.exclude(look="").select_related("revision"):
        assert one.look in looks_of(play_value(one.revision))


@pytest.mark.django_db
def test_the_games_hold_what_a_log_of_games_holds() -> None:
    build_demo(DAY)
    called = CalledPlay.objects.all()
    assert called.count() == called.counted().count() + 1  # one was taken back
    assert {one.result for one in called} == {"points", "foul", "turnover", "five_seconds", "reset"}
    assert {one.taken for one in called} == {"look", "none", "broken"}
    assert called.filter(defence="").exists()  # nobody said
    dropped = PackagePlay.objects.exclude(dropped_on=None).get()
    assert called.filter(entry=dropped).exists()
    assert not called.filter(entry=dropped, game__date__gte=dropped.dropped_on).exists()
    held = HeldRep.objects.get()  # from a phone that did not know that it was dropped
    assert (held.counted, held.tap["play"]) == (None, dropped.pk)


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
