"""The demo club as built: all of it there, and fit to be run."""

from __future__ import annotations

import pytest

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
from roster.models import PackagePlay, Team
from tests.cast import DEMO_DAY as DAY

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("demo_club")]


def test_the_demo_club_is_whole() -> None:
    assert Team.objects.count() == 2
    assert sorted(team.players.count() for team in Team.objects.all()) == [10, 13]
    assert Play.objects.on_shelf().count() == 27
    assert 600 <= Rep.objects.count() <= 800
    assert Game.objects.filter(date__gt=DAY).count() == 4
    weeks = {practice.date.isocalendar()[1] for practice in Practice.objects.filter(date__lt=DAY)}
    assert len(weeks) >= 6


def test_nobody_logs_a_rep_while_absent() -> None:
    absent = Attendance.objects.filter(presence="absent")
    away = set(absent.values_list("practice", "player"))
    logged = set(Rep.objects.values_list("practice", "roles__player"))
    assert not away & logged


def test_eight_games_have_been_played_by_who_was_there() -> None:
    games = Game.objects.filter(date__lt=DAY)
    assert games.count() == 8
    assert all(10 <= game.called.counted().count() <= 20 for game in games)
    out = set(SquadMark.objects.filter(is_out=True).values_list("game", "player"))
    assert out
    assert not out & set(CalledRole.objects.values_list("called__game", "player"))
    for one in CalledPlay.objects.exclude(look="").select_related("revision"):
        assert one.look in looks_of(play_value(one.revision))


def test_the_games_hold_what_a_log_of_games_holds() -> None:
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
