"""Logged possessions as sightings, what plays have against them, and the choice by them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import timedelta
from unittest.mock import patch

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.check.results import code_state
from plays.core.defence.stance import Tactic
from plays.core.play import AgeGroup
from plays.models import CheckResult
from practice.choosing.asked import AskedPackage, asked_for
from practice.core.learning.coming import KINDS
from practice.models import CalledPlay, Game, Observation, Opponent, PackageWishes
from practice.opponents.shares import tendencies_by_opponent, tendencies_of
from shared.models import Change
from tests.cast import Cast


def log(cast: Cast, defence: str, many: int = 1, game: Game | None = None) -> list[CalledPlay]:
    return [
        CalledPlay.objects.create(
            game=game or cast.game,
            entry=cast.entry,
            revision=cast.entry.revision,
            defence=defence,
            taken="none",
            result="reset",
            at=timezone.now() + timedelta(seconds=number),
        )
        for number in range(many)
    ]


def counts(opponent: Opponent) -> dict[Tactic, int]:
    return {share.defence: share.count for share in tendencies_of(opponent).overall.shares}


@pytest.fixture
def unseen(cast: Cast) -> Cast:
    Observation.objects.all().delete()
    return cast


def plain(html: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def test_a_logged_possession_with_a_defence_counts_as_seen(unseen: Cast) -> None:
    log(unseen, "trap", 3)
    log(unseen, "", 2)
    assert counts(unseen.opponent) == {Tactic.TRAP: 3}
    found = tendencies_of(unseen.opponent)
    assert [each.situation for each in found.by_situation] == [unseen.play.situation]
    assert found.overall.last == unseen.game.date
    text = plain(
        unseen.client(unseen.assistant)
        .get(reverse("opponent", args=[unseen.opponent.pk]))
        .content.decode()
    )
    assert "from the game log 3 times" in text


def test_what_is_taken_back_is_not_seen(unseen: Cast) -> None:
    kept, gone = log(unseen, "trap", 2)
    client = unseen.client(unseen.head)
    address = reverse("take-called-back", args=[unseen.game.pk, gone.pk])
    assert client.post(address).status_code == 302
    assert counts(unseen.opponent) == {Tactic.TRAP: 1}
    assert CalledPlay.objects.counted().get() == kept


def test_who_counted_by_hand_and_logged_has_counted_once(unseen: Cast) -> None:
    """Of one defence, day and kind of throw-in the greater number counts, never the sum."""
    day = {"opponent": unseen.opponent, "day": unseen.game.date}
    Observation.objects.create(**day, situation=unseen.play.situation, trap=5, zone=1)
    log(unseen, "trap", 3)
    log(unseen, "zone", 2)
    assert counts(unseen.opponent) == {Tactic.TRAP: 5, Tactic.ZONE: 2}
    Observation.objects.create(
        opponent=unseen.opponent,
        day=unseen.game.date - timedelta(days=1),
        situation=unseen.play.situation,
        trap=4,
    )
    assert counts(unseen.opponent) == {Tactic.TRAP: 9, Tactic.ZONE: 2}


def test_a_game_that_turns_out_to_be_against_somebody_else_takes_its_log_along(
    unseen: Cast,
) -> None:
    log(unseen, "sag", 2)
    other = factories.OpponentFactory.create(team=unseen.team, name="Fernhill")
    unseen.game.met = other
    unseen.game.save()
    assert counts(unseen.opponent) == {}
    assert counts(other) == {Tactic.SAG: 2}


def test_one_teams_log_is_no_other_teams_sighting(unseen: Cast) -> None:
    log(unseen, "zone", 2)
    found = tendencies_by_opponent(unseen.team)
    assert [each.overall.total for each in found.values()] == [2]
    assert tendencies_by_opponent(unseen.other_team) == {}


# --- what the plays have for it ---------------------------------------------------------------


def checked(cast: Cast, defence: str, there: int) -> None:
    CheckResult.objects.update_or_create(
        content_hash=cast.entry.revision.content_hash,
        age=cast.team.age_group,
        defence=defence,
        code=code_state(),
        defaults={"serious": 0, "warnings": 0, "notes": 0, "there": there, "looks": 2},
    )


def answers_page(cast: Cast, route: str, pk: int) -> str:
    text = plain(cast.client(cast.assistant).get(reverse(route, args=[pk])).content.decode())
    return text[text.index("What your plays have for it") :]


def test_a_play_answers_by_a_counter_by_a_look_or_not_at_all(unseen: Cast) -> None:
    log(unseen, "switch", 3)
    log(unseen, "zone", 2)
    log(unseen, "sag")
    checked(unseen, "zone", 1)
    checked(unseen, "sag", 0)
    for route, pk in (("opponent", unseen.opponent.pk), ("game", unseen.game.pk)):
        text = answers_page(unseen, route, pk)
        assert "switch 3 of 6 times 1 counter" in text
        assert "They switch the screen" in text
        assert "2-3 zone 2 of 6 times 0 counters No counter, but a look:" in text
        assert "sag 1 of 6 times 0 counters · 1 play without an answer" in text
        assert "Neither counter nor look: " in text


def test_a_state_that_is_not_reckoned_is_not_called_an_answer(unseen: Cast) -> None:
    log(unseen, "zone")
    CheckResult.objects.all().delete()
    text = answers_page(unseen, "opponent", unseen.opponent.pk)
    assert "Not checked in the version you carry:" in text
    assert "without an answer" not in text


def test_a_way_of_staying_with_a_man_is_judged_as_a_chase(unseen: Cast) -> None:
    log(unseen, "tight")
    checked(unseen, "chase", 1)
    assert "No counter, but a look:" in answers_page(unseen, "opponent", unseen.opponent.pk)


def test_more_plays_and_possessions_ask_no_more_queries(unseen: Cast) -> None:
    client = unseen.client(unseen.head)
    address = reverse("opponent", args=[unseen.opponent.pk])

    def queries() -> int:
        client.get(address)
        with CaptureQueriesContext(
            connection,
        ) as found:
            client.get(address)
        return len(found)

    log(unseen, "zone")
    few = queries()
    log(unseen, "trap", 20)
    log(unseen, "sag", 20)
    for key in ("duckboard", "oar-rack", "last-bell"):
        play = factories.published(demo_play(key), unseen.keeper)
        factories.PackagePlayFactory.create(team=unseen.team, play=play)
    assert queries() == few


# --- the choice -------------------------------------------------------------------------------


def asked(cast: Cast) -> AskedPackage:
    cast.team.refresh_from_db()
    return asked_for(cast.team, timezone.now())


@pytest.fixture
def ahead(unseen: Cast) -> Iterator[Cast]:
    """The game is in nine days: its opponent is one of the next ones."""
    unseen.team.age_group = AgeGroup.U14.value
    unseen.team.save()
    unseen.game.date = timezone.localdate() + timedelta(days=9)
    unseen.game.save()
    with patch("plays.check.results.AGES", (AgeGroup.U14,)):
        yield unseen


def seen(cast: Cast, **times: int) -> None:
    day = timezone.localdate() - timedelta(days=3)
    Observation.objects.create(opponent=cast.opponent, day=day, situation="sideline", **times)


def test_the_choice_is_weighed_by_what_was_seen_of_the_next_opponents(ahead: Cast) -> None:
    assert asked(ahead).question.shares == {}
    seen(ahead, trap=14, chase=3)
    shares = asked(ahead).question.shares
    assert shares[Tactic.TRAP] == pytest.approx(15 / 23)
    assert shares[Tactic.ZONE] == pytest.approx(1 / 23)
    assert asked(ahead).question.against == 2
    client = ahead.client(ahead.head)
    address = reverse("which-plays", args=[ahead.team.pk])
    text = plain(client.get(address).content.decode())
    assert (
        "Your next opponent in 17 throw-ins seen: 14 trap the ball · 3 man to man, chase." in text
    )
    assert 'placeholder="65"' in client.get(address).content.decode()


def test_the_coachs_own_word_goes_before_what_was_seen_and_can_be_taken_back(ahead: Cast) -> None:
    seen(ahead, trap=14)
    client = ahead.client(ahead.head)
    terms = reverse("choice-terms", args=[ahead.team.pk])
    assert client.post(terms, {"occasions": "left", "zone": "3"}).status_code == 302
    own = asked(ahead).question.shares
    assert own == {**dict.fromkeys(KINDS, 0.0), Tactic.ZONE: 3.0}
    page = client.get(reverse("which-plays", args=[ahead.team.pk])).content.decode()
    assert "Opponents are weighed by what you have said they do." in page
    assert "placeholder" not in page
    sent = {"occasions": "left", "zone": "3", "as_seen": "1"}
    assert client.post(terms, sent).status_code == 302
    assert client.post(terms, sent).status_code == 302
    assert PackageWishes.objects.get(team=ahead.team).shares == {}
    assert asked(ahead).question.shares[Tactic.TRAP] == pytest.approx(15 / 20)
    assert Change.objects.filter(verb="set what a package is for").count() == 2


def test_only_the_next_four_opponents_and_no_cancelled_game_are_asked(ahead: Cast) -> None:
    seen(ahead, trap=4)
    for days in range(1, 6):
        other = factories.OpponentFactory.create(team=ahead.team, name=f"Rival {days}")
        factories.GameFactory.create(
            team=ahead.team,
            met=other,
            opponent=other.name,
            date=timezone.localdate() + timedelta(days=days),
            cancelled=days < 3,
        )
    facing = asked(ahead).facing
    assert [each.name for each in facing.next] == ["Rival 3", "Rival 4", "Rival 5", "Millbrook"]
    assert facing.shares[Tactic.TRAP] == pytest.approx((5 / 10 + 3 / 6) / 4)
