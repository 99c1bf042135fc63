"""The check's index against the club's games: what is judged, kept and said."""

from __future__ import annotations

import pytest
from django.urls import reverse

from plays.core.check.setting import Setting, checked
from plays.core.defence.stance import Tactic
from plays.core.play import AgeGroup, RuleSet
from plays.values import play_value
from practice.choosing.judging import setting_of
from practice.core.learning.index import FEWEST, IndexFit
from practice.learned.index import (
    calibrate_games,
    games_index,
    indices,
    keep_index,
    kept_fit,
    team_tries,
)
from practice.models import ReadinessSettings
from practice.parameters import settings_row
from practice.readiness import calibrating
from shared.core.language import ENGLISH
from shared.worker import perform
from tests.cast import Cast
from tests.practice.games.taps import called, send, today

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def game_day(cast: Cast) -> Cast:
    return today(cast)


def test_an_index_is_the_check_s_own_of_that_defence(cast: Cast) -> None:
    play = play_value(cast.entry.revision)
    found = indices(play, setting_of(cast.team))
    setting = Setting(AgeGroup.U16, rule_set=RuleSet.FIBA, defence="switch")
    for verdict in checked(play, setting).verdicts:
        key = verdict.window.look.id, Tactic.SWITCH
        assert found[key] == pytest.approx(verdict.index, abs=1e-9)
    assert {tactic for _, tactic in found} == set(Tactic)


def test_what_a_possession_reached_is_judged_against_what_was_met(cast: Cast) -> None:
    send(cast, called(cast, look="slot", defence="zone"), called(cast, look="post", defence=None))
    known = indices(play_value(cast.entry.revision), setting_of(cast.team))
    judged = team_tries(cast.team)
    assert len(judged) == 4
    assert {(each.there, each.index) for each in judged} == {
        (False, known["post", Tactic.ZONE]),
        (False, known["corner", Tactic.ZONE]),
        (True, known["slot", Tactic.ZONE]),
        (True, known["post", Tactic.CHASE]),  # nobody said which
    }


def test_too_few_looks_are_not_calibrated_and_the_pages_say_so(cast: Cast) -> None:
    path = reverse("check", args=[cast.play.key])
    text = cast.client(cast.head).get(path).content.decode()
    assert "held against your games:" in text
    assert "Not calibrated yet." in text
    send(cast, called(cast))
    made = calibrate_games(ENGLISH)
    keep_index(settings_row(), made)
    said = f"Not calibrated yet: 1 looks were judged in games, {FEWEST} are needed."
    for page in (path, reverse("assumptions")):
        text = cast.client(cast.head).get(page).content.decode()
        assert said in text
        assert "by your games" not in text


def test_a_curve_that_is_proven_is_said_beside_each_look(cast: Cast) -> None:
    row = settings_row()
    row.games = {
        "judged": 200,
        "sentence": "Calibrated.",
        "scores": None,
        "fit": {"level": 0.0, "slope": 0.0, "plays": {str(cast.entry.pk): 0.0}},
    }
    row.save()
    assert kept_fit(row.games) == IndexFit(0.0, 0.0, {cast.entry.pk: 0.0})
    path = f"{reverse('check', args=[cast.play.key])}?team={cast.team.pk}"
    text = " ".join(cast.client(cast.head).get(path).content.decode().split())
    assert "there in about 50 of 100 by your games" in text  # logistic of 0


def test_a_guest_of_the_library_is_told_nothing_of_games(cast: Cast) -> None:
    cast.keeper.is_guest = True
    assert games_index(cast.keeper, cast.play, None) is None


@pytest.mark.usefixtures("spawned")
def test_the_worker_of_calibrating_reckons_it_too(cast: Cast) -> None:
    send(cast, called(cast))
    perform(calibrating.begin("en"))
    kept = ReadinessSettings.objects.get().games
    assert kept is not None
    assert kept["judged"] == 1
