"""Opponents: made by games, noted about by every coach of the team, seen by nobody else."""

from __future__ import annotations

import re
from datetime import date

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.test import Client
from django.urls import reverse

from coachbook.demo import factories
from plays.core.defence.stance import Tactic
from plays.core.play import Situation
from practice.models import Game, Observation, Opponent
from practice.opponents.meeting import meet
from practice.opponents.shares import tendencies_by_opponent, tendencies_of
from shared.models import Change
from tests.cast import Cast

BEFORE = ("practice", "0009_clearing")
GAME = {"date": "2026-12-19", "start": "15:00"}


def send(client: Client, route: str, pk: int, /, **typed: object) -> int:
    return client.post(reverse(route, args=[pk]), typed).status_code


def shown(client: Client, name: str, pk: int) -> str:
    return client.get(reverse(name, args=[pk])).content.decode()


def plain(html: str) -> str:
    """The text of a page without its tags, on one line."""
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def test_the_columns_are_the_tactics_of_the_check() -> None:
    columns = {f.name for f in Observation._meta.get_fields()} - {
        *("id", "opponent", "day", "situation")
    }
    assert columns == {tactic.value for tactic in Tactic}


def test_a_game_makes_its_opponent_once_however_the_name_is_written(cast: Cast) -> None:
    client = cast.client(cast.head)
    for name in ("Reedham Rails", "  reedham   RAILS "):
        assert send(client, "new-game", cast.team.pk, opponent=name, **GAME) == 302
    assert send(client, "new-game", cast.team.pk, opponent="Millbrook", **GAME) == 302
    assert cast.team.opponents.filter(name__iexact="reedham rails").count() == 1
    assert Opponent.objects.get(name="Reedham Rails").games.count() == 2
    assert cast.opponent.games.count() == 2


def test_a_game_that_turns_out_to_be_against_somebody_else_goes_to_them(cast: Cast) -> None:
    client = cast.client(cast.head)
    assert send(client, "edit-game", cast.game.pk, opponent="Fernhill", **GAME) == 302
    cast.game.refresh_from_db()
    assert cast.game.met is not None
    assert (cast.game.met.name, cast.opponent.games.count()) == ("Fernhill", 0)


def test_two_teams_know_an_opponent_of_one_name_each_by_itself(cast: Cast) -> None:
    other = Game(team=cast.other_team, date=date(2026, 12, 5), start="15:00", opponent="Millbrook")
    meet(other)
    other.save()
    assert other.met is not None
    assert other.met != cast.opponent
    assert tendencies_of(other.met).overall.total == 0
    assert tendencies_by_opponent(cast.other_team) == {}


def test_nobody_of_another_team_sees_or_notes_anything(cast: Cast) -> None:
    stranger = cast.client(cast.stranger)
    for name, pk in (
        ("opponents", cast.team.pk),
        ("opponent", cast.opponent.pk),
        ("edit-opponent", cast.opponent.pk),
        ("new-observation", cast.opponent.pk),
        ("edit-observation", cast.observation.pk),
    ):
        path = reverse(name, args=[pk])
        assert stranger.get(path).status_code == 404, name
        sent = {"delete": "", "name": "Mine", "day": "2026-11-20", "situation": "sideline"}
        assert stranger.post(path, sent).status_code in (404, 405), name
    cast.opponent.refresh_from_db()
    assert (cast.opponent.name, cast.opponent.observations.count()) == ("Millbrook", 1)


def test_an_assistant_notes_what_they_did_and_the_page_tells_it(cast: Cast) -> None:
    client = cast.client(cast.assistant)
    seen = {"day": "2026-11-21", "situation": "sideline", "switch": "4", "chase": "2", "zone": ""}
    assert send(client, "new-observation", cast.opponent.pk, **seen) == 302
    found = tendencies_of(cast.opponent).against(Situation.SIDELINE)
    assert [(s.defence, s.count, s.total) for s in found.shares] == [
        (Tactic.SWITCH, 7, 10),
        (Tactic.CHASE, 2, 10),
        (Tactic.ZONE, 1, 10),
    ]
    text = plain(shown(client, "opponent", cast.opponent.pk))
    assert "switch 7 of 10 times: 44 to 87 %" in text
    assert "10 times, last seen on 21 Nov 2026" in text
    assert "10 defences seen, mostly switch" in plain(shown(client, "opponents", cast.team.pk))
    assert Change.objects.filter(verb="noted what was seen", team=cast.team.pk).exists()
    assert send(client, "edit-opponent", cast.opponent.pk, name="Other") == 403


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        ({"switch": "0"}, "Count at least one defence."),
        ({"switch": "-1"}, "Write 0 or more."),
        ({"trap": "201"}, "Write 200 or less."),
        ({"over": "99999999999999999999"}, "Write 200 or less."),
        ({"zone": "two"}, "id_zone_error"),
        ({"switch": "1", "day": "9999-12-31"}, "Choose a day between"),
        ({"switch": "1", "situation": "tip_off"}, "id_situation_error"),
    ],
)
def test_what_cannot_be_is_told_at_its_place(typed: dict[str, str], fault: str, cast: Cast) -> None:
    sent = {"day": "2026-11-21", "situation": "sideline", **typed}
    path = reverse("new-observation", args=[cast.opponent.pk])
    answer = cast.client(cast.head).post(path, sent)
    assert answer.status_code == 422
    assert fault in answer.content.decode()
    assert cast.opponent.observations.count() == 1


def test_a_day_and_situation_are_counted_in_one_place(cast: Cast) -> None:
    client = cast.client(cast.head)
    same = {"day": str(cast.observation.day), "situation": "sideline", "trap": "2"}
    path = reverse("new-observation", args=[cast.opponent.pk])
    answer = client.post(path, same)
    assert answer.status_code == 422
    assert "For this day and situation there are counts already" in answer.content.decode()
    assert send(client, "edit-observation", cast.observation.pk, **same) == 302
    cast.observation.refresh_from_db()
    assert (cast.observation.trap, cast.observation.switch) == (2, 0)
    assert send(client, "edit-observation", cast.observation.pk, delete="") == 302
    assert not cast.opponent.observations.exists()


def test_a_new_name_goes_into_the_games_and_is_given_once(cast: Cast) -> None:
    factories.OpponentFactory.create(team=cast.team, name="Fernhill")
    client = cast.client(cast.head)
    path = reverse("edit-opponent", args=[cast.opponent.pk])
    taken = client.post(path, {"name": "fernHILL"})
    assert taken.status_code == 422
    assert "There is an opponent of that name already." in taken.content.decode()
    assert send(client, "edit-opponent", cast.opponent.pk, name="Millbrook Moles") == 302
    cast.game.refresh_from_db()
    assert cast.game.opponent == "Millbrook Moles"


def test_a_deleted_opponent_leaves_its_name_to_its_games(cast: Cast) -> None:
    assert send(cast.client(cast.head), "edit-opponent", cast.opponent.pk, delete="") == 302
    cast.game.refresh_from_db()
    assert (cast.game.opponent, cast.game.met) == ("Millbrook", None)
    assert not Observation.objects.exists()


def test_whom_the_team_meets_next_comes_first(cast: Cast) -> None:
    factories.OpponentFactory.create(team=cast.team, name="Aldercott")
    text = plain(shown(cast.client(cast.assistant), "opponents", cast.team.pk))
    assert text.index("Millbrook") < text.index("Aldercott")
    assert "Add an opponent" not in text


@pytest.mark.django_db(transaction=True)
def test_the_opponents_of_games_that_were_there_become_rows() -> None:
    team, other = factories.TeamFactory.create(), factories.TeamFactory.create()
    for day, of, name in (
        (1, team, "Millbrook"),
        (2, team, " millbrook "),
        (3, team, "Fernhill"),
        (4, other, "Millbrook"),
    ):
        factories.GameFactory.create(team=of, date=date(2026, 11, day), opponent=name)
    executor = MigrationExecutor(connection)
    newest = executor.loader.graph.leaf_nodes()
    try:
        executor.migrate([BEFORE])
    finally:
        executor = MigrationExecutor(connection)
        executor.migrate(newest)
    met = {(g.team_id, g.opponent): g.met.name for g in Game.objects.all() if g.met}
    assert met == {
        (team.pk, "Millbrook"): "millbrook",
        (team.pk, " millbrook "): "millbrook",
        (team.pk, "Fernhill"): "Fernhill",
        (other.pk, "Millbrook"): "Millbrook",
    }
    assert (team.opponents.count(), other.opponents.count()) == (2, 1)
