"""The page after a game, the way into the next plan, and the season: counted by hand."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from practice.models import CalledPlay, Game, InstallPlan, LessonInPlan
from roster.models import PackagePlay
from tests.cast import Cast
from tests.practice.games.taps import called, send, today

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def played(cast: Cast) -> Game:
    """The cast's game is now; another play is carried beside Gangway, a game and two practices
    are ahead."""
    today(cast)
    now = timezone.localtime()
    cast.game.start = (now - timedelta(minutes=1)).time().replace(microsecond=0)
    cast.game.save()
    second = factories.PackagePlayFactory.create(
        priority=2, team=cast.team, play=factories.published(demo_play("sluice")), call="Lock"
    )
    for role, player in enumerate(cast.players[:5], start=1):
        factories.CastingFactory.create(entry=second, role=str(role), player=player)
    for days in (1, 2):
        day = now.date() + timedelta(days=days)
        factories.PracticeFactory.create(team=cast.team, date=day, install_minutes=9)
    game: Game = factories.GameFactory.create(
        team=cast.team, date=now.date() + timedelta(days=4), opponent="Otterford"
    )
    return game


def page(cast: Cast, name: str, pk: int, user: Any = None) -> str:
    response = cast.client(user or cast.head).get(reverse(name, args=[pk]))
    assert response.status_code == 200
    return " ".join(re.sub(r"<[^>]+>", " ", response.content.decode()).split())


def post(cast: Cast, name: str, pk: int, user: Any = None, **data: object) -> int:
    path = reverse(name, args=[pk])
    return cast.client(user or cast.head).post(path, data).status_code


def broken(cast: Cast, erred: str = "2") -> dict[str, Any]:
    return called(cast, taken="broken", look=None, result="turnover", points=None, erred=erred)


def lesson(cast: Cast) -> dict[str, object]:
    return {"play": cast.entry.pk, "lesson": "erred", "role": "2"}


def reps_of(game: Game, entry: PackagePlay) -> int:
    plan = InstallPlan.objects.get(game=game)
    return sum(row["reps"] for row in plan.entries if row["play"] == entry.pk)


def test_the_page_after_a_game_tells_counts(cast: Cast) -> None:
    send(cast, called(cast), called(cast, points=0, defence="zone"), broken(cast), broken(cast))
    said = page(cast, "after-game", cast.game.pk, cast.assistant)
    assert "4 calls, points: 2; points or a foul: 1" in said
    assert "Against switch: 3 calls; points or a foul: 1." in said
    assert "Against 2-3 zone: 1 call; points or a foul: 0." in said
    assert "the 2, 2 times Noor (5)" in said
    assert "In Gangway Zoë the 2 went wrong 2 times: go over that part." in said
    assert "Gangway Zoë broke 2 times: walk it through." in said
    assert "%" not in said  # counts of one game, and no share
    assert "Into the plan" not in said  # who may only read plans nothing


def test_a_foul_without_its_throws_is_told_beside_the_points(cast: Cast) -> None:
    send(cast, called(cast), called(cast, result="foul", points=None))
    said = page(cast, "after-game", cast.game.pk)
    assert "points: 2; points or a foul: 2 The points of 1 foul are missing" in said


def test_a_game_without_possessions_says_so(cast: Cast) -> None:
    assert "there is nothing to tell" in page(cast, "after-game", cast.game.pk)
    assert "No play called in a game is logged yet" in page(cast, "played", cast.team.pk)


def test_one_tap_changes_the_plan_of_the_next_game_and_one_takes_it_back(
    cast: Cast, played: Game
) -> None:
    send(cast, broken(cast), broken(cast))
    assert post(cast, "propose", played.pk) == 302
    before = reps_of(played, cast.entry)
    assert post(cast, "practise-lesson", cast.game.pk, **lesson(cast)) == 302
    after = reps_of(played, cast.entry)
    assert after > before
    said = "In Gangway Zoë the 2 went wrong 2 times: go over that part."
    assert f"From the games A play that stands here counts double in this plan. {said}" in page(
        cast, "install", played.pk
    )
    assert "in the plan" in page(cast, "after-game", cast.game.pk)
    row = LessonInPlan.objects.get()
    assert post(cast, "leave-lesson", played.pk, lesson=row.pk) == 302
    assert not LessonInPlan.objects.exists()
    assert reps_of(played, cast.entry) == before
    assert said not in page(cast, "install", played.pk)
    assert "Into the plan" in page(cast, "after-game", cast.game.pk)


def test_a_double_tap_is_one_lesson_and_a_play_counts_double_once(cast: Cast, played: Game) -> None:
    send(cast, broken(cast), broken(cast))
    for _ in range(2):
        assert post(cast, "practise-lesson", cast.game.pk, **lesson(cast)) == 302
    assert LessonInPlan.objects.count() == 1
    post(cast, "propose", played.pk)
    once = InstallPlan.objects.get(game=played).entries
    more = {"play": cast.entry.pk, "lesson": "broken", "role": ""}
    post(cast, "practise-lesson", cast.game.pk, **more)
    assert LessonInPlan.objects.count() == 2
    assert InstallPlan.objects.get(game=played).entries == once
    row = LessonInPlan.objects.first()
    for _ in range(2):
        assert post(cast, "leave-lesson", played.pk, lesson=row.pk if row else 0) == 302
    assert LessonInPlan.objects.count() == 1


@pytest.mark.parametrize(
    "data",
    [
        {},
        {"play": "9" * 40, "lesson": "erred", "role": "2"},
        {"lesson": "erred", "role": "3"},
        {"lesson": "sing", "role": ""},
        {"lesson": "five_seconds", "role": ""},
    ],
)
def test_what_the_game_does_not_show_is_not_put_in(cast: Cast, data: dict[str, object]) -> None:
    send(cast, broken(cast), broken(cast))
    said = {"play": cast.entry.pk, **data}
    assert post(cast, "practise-lesson", cast.game.pk, **said) == 302
    assert not LessonInPlan.objects.exists()


def test_without_a_game_ahead_or_with_a_dropped_play_nothing_is_offered(
    cast: Cast, played: Game
) -> None:
    send(cast, broken(cast), broken(cast))
    cast.team.package.filter(pk=cast.entry.pk).update(dropped_on=timezone.localdate())
    assert "dropped meanwhile" in page(cast, "after-game", cast.game.pk)
    assert post(cast, "practise-lesson", cast.game.pk, **lesson(cast)) == 302
    played.delete()
    assert "No game is ahead" in page(cast, "after-game", cast.game.pk)
    assert post(cast, "practise-lesson", cast.game.pk, **lesson(cast)) == 302
    assert not LessonInPlan.objects.exists()


def test_another_team_s_lesson_stays_where_it_is(cast: Cast, played: Game) -> None:
    send(cast, broken(cast), broken(cast))
    post(cast, "practise-lesson", cast.game.pk, **lesson(cast))
    other = factories.GameFactory.create(team=cast.other_team)
    key = LessonInPlan.objects.get().pk
    assert post(cast, "leave-lesson", other.pk, cast.stranger, lesson=key) == 302
    assert post(cast, "leave-lesson", played.pk, cast.stranger, lesson=key) == 404
    assert post(cast, "leave-lesson", played.pk, cast.assistant, lesson=key) == 403
    assert LessonInPlan.objects.count() == 1


# --- the season ---------------------------------------------------------------------------


def test_the_season_tells_counts_below_five_and_a_range_from_five_on(cast: Cast) -> None:
    send(cast, *(called(cast) for _ in range(4)))
    said = page(cast, "played", cast.team.pk)
    assert "1 game, 4 plays called" in said
    assert "4 possessions, points: 8." in said
    assert "The play came to it 4 times; there: 4." in said
    assert "other calls beside it" not in said
    send(cast, called(cast, points=0))
    said = page(cast, "played", cast.team.pk)
    assert "5 possessions, points: 8. With the team&#x27;s other calls beside it:" in said
    assert "With the guess before it:" in said
    assert "Lock never called" in said
    assert "EuroLeague 2018-19" in said


def test_a_guess_that_the_games_speak_against_is_said(cast: Cast) -> None:
    none = {"taken": "none", "look": None, "result": "reset", "points": None}
    send(cast, *(called(cast, look="slot") for _ in range(6)))
    assert "disagree" not in page(cast, "played", cast.team.pk)
    send(cast, *(called(cast, **none) for _ in range(25)))
    said = page(cast, "played", cast.team.pk)
    assert "Where guess and games disagree Gangway Zoë" in said
    # slot is guessed to be there 8 times in 10, and was 6 of 31 times
    assert (
        "You guessed that it is there 8 times in 10. In games it is there less often: 6 of" in said
    )


def test_a_look_that_a_newer_state_no_longer_has_is_told_and_counts_for_none(cast: Cast) -> None:
    send(cast, *(called(cast, look="post") for _ in range(6)))
    CalledPlay.objects.update(look="once")  # as a state named it that is gone
    said = page(cast, "played", cast.team.pk)
    assert "once Taken 6 times; the play no longer has this look" in said
    assert "There 6 of" not in said


def test_more_possessions_ask_the_database_no_more(cast: Cast) -> None:
    def queries(name: str, pk: int) -> int:
        client = cast.client(cast.head)
        client.get(reverse(name, args=[pk]))
        with CaptureQueriesContext(connection) as asked:
            client.get(reverse(name, args=[pk]))
        return len(asked)

    send(cast, called(cast), broken(cast), broken(cast))
    pages = (("after-game", cast.game.pk), ("played", cast.team.pk))
    few = [queries(name, pk) for name, pk in pages]
    send(cast, *(called(cast) for _ in range(20)), *(broken(cast, "3") for _ in range(5)))
    second = cast.team.package.get(call="Lock")
    more = {"play": second.pk, "revision": second.revision_id, "look": "gate"}
    send(cast, *(called(cast, **more) for _ in range(8)))
    assert [queries(name, pk) for name, pk in pages] == few
