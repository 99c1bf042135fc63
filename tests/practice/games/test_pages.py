"""The pages of a game: squad, what was called, and possessions put right by hand."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from practice.core.reps.called import CallResult
from practice.games.forms import clock_told, endings
from practice.games.page import FIRST_DEFENCES, game_data
from practice.models import Absence, CalledPlay, RepSum, SquadMark
from practice.presence import out_by_game
from practice.reps.called_words import result_told
from practice.reps.sums import touches_of
from roster.models import Availability
from shared.models import Change
from tests.cast import Cast
from tests.practice.games.taps import called, counted, send, today


@pytest.fixture(autouse=True)
def game_day(cast: Cast) -> Cast:
    return today(cast)


def filled(page: str) -> dict[str, str]:
    """What a browser would send from the first form of a page, untouched."""
    form = page[page.index('<form class="form card"') :]
    form = form[: form.index("</form>")]
    fields: dict[str, str] = {}
    for tag in re.findall(r"<input[^>]*>", form):
        name = re.search(r'name="([^"]*)"', tag)
        value = re.search(r'value="([^"]*)"', tag)
        if name:
            fields[name[1]] = value[1] if value else ""
    for name, options in re.findall(r'<select name="([^"]*)".*?>(.*?)</select>', form, re.DOTALL):
        chosen = re.search(r'value="([^"]*)" selected', options)
        fields[name] = chosen[1] if chosen else ""
    return fields


def test_the_page_carries_all_that_the_phone_needs(cast: Cast) -> None:
    data = game_data(cast.game, cast.assistant)
    assert data["floor"] == [player.pk for player in cast.players[:5]]
    play = data["plays"][0]
    assert play["looks"][0] == ["post", "1 to 5, overhead pass"]
    assert [told for _id, told in play["looks"] if told.endswith("(switch)")]
    assert ["5", 2, cast.players[5].pk] in play["cast"]
    assert len(data["defences"]) == 12 > FIRST_DEFENCES
    assert [each[:2] for each in data["results"]] == [
        *(("points", n) for n in range(4)),
        *((each, None) for each in ("foul", "turnover", "five_seconds", "reset")),
    ]
    json.dumps(data)


def test_the_log_brings_the_token_that_its_taps_are_sent_with(cast: Cast) -> None:
    answer = cast.client(cast.assistant).get(reverse("game-log", args=[cast.game.pk]))
    assert answer.cookies["csrftoken"].value


def test_who_is_out_is_not_on_the_floor_at_first(cast: Cast) -> None:
    day = timezone.localdate()
    Absence.objects.create(player=cast.players[0], first=day, last=day)
    data = game_data(cast.game, cast.assistant)
    assert cast.players[0].pk not in data["floor"]
    assert len(set(data["floor"])) == 5
    assert {p["id"] for p in data["players"] if p["away"]} == {cast.players[0].pk}


def test_the_squad_is_marked_for_the_day_and_outdoes_an_absence(cast: Cast) -> None:
    day = timezone.localdate()
    absent, cleared = cast.players[0], cast.players[1]
    Absence.objects.create(player=absent, first=day, last=day)
    cleared.availability = Availability.OUT
    cleared.save()
    client = cast.client(cast.assistant)
    path = reverse("game", args=[cast.game.pk])
    assert f'name="in-{absent.pk}"' in client.get(path).content.decode()
    sent = {f"in-{player.pk}": "on" for player in cast.players if player != cast.players[2]}
    for _ in range(2):  # pressed twice
        assert client.post(path, sent).status_code == 302
    out = out_by_game([cast.game])[cast.game.pk]
    assert out == {cast.players[2].pk}
    assert not SquadMark.objects.filter(player=cleared).exists()  # nothing is decided about them
    assert SquadMark.objects.count() == len(cast.players) - 1
    assert Change.objects.filter(verb="set the squad").count() >= 1
    other = factories.GameFactory.create(team=cast.team, date=day, opponent="Elsewhere")
    assert out_by_game([other])[other.pk] == {absent.pk}


def test_a_possession_is_put_right_and_the_sums_follow(cast: Cast) -> None:
    one = called(cast)
    send(cast, one)
    client = cast.client(cast.head)
    path = reverse("edit-called", args=[cast.game.pk, one["id"]])
    form = filled(client.get(path).content.decode())
    assert (form["look"], form["ending"], form["defence"]) == ("look-post", "points-2", "switch")
    change = {"look": "broken", "ending": "foul-1", "erred": "2", "clock": "0:07", "role-5": ""}
    assert client.post(path, form | change).status_code == 302
    row = CalledPlay.objects.get()
    assert (row.taken, row.look, row.result, row.points) == ("broken", "", "foul", 1)
    assert (row.erred, row.clock, row.roles.count()) == ("2", 7, 4)
    clean = {touch.role: touch.clean for touch in touches_of(cast.team)}
    assert clean == {"1": True, "2": False, "3": True, "4": True}
    said = Change.objects.get(verb="changed a possession")
    assert (said.before, said.after) == (
        "switch · 1 to 5, overhead pass · 2 points",
        "switch · Broken · Foul drawn, 1 point",
    )
    assert send(cast, one)["kept"] == [one["id"]]  # the phone's copy comes once more
    assert CalledPlay.objects.get().result == "foul"


def test_two_who_put_it_right_never_overwrite_unseen(cast: Cast) -> None:
    one = called(cast)
    send(cast, one)
    path = reverse("edit-called", args=[cast.game.pk, one["id"]])
    head, assistant = cast.client(cast.head), cast.client(cast.assistant)
    form = filled(head.get(path).content.decode())
    assert assistant.post(path, form | {"ending": "turnover"}).status_code == 302
    late = head.post(path, form | {"ending": "points-3"})
    assert late.status_code == 422
    assert "Turnover" in late.content.decode()
    assert head.post(path, form | {"period": "2"}).status_code == 302  # another field: no clash
    row = CalledPlay.objects.get()
    assert (row.result, row.points, row.period) == ("turnover", 0, 2)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("clock", "20:01"),
        ("clock", "9:7"),
        ("clock", "99:59"),
        ("clock", "٣:٠٠"),
        ("period", "0"),
        ("period", "21"),
        ("period", "1e9"),
        ("look", "look-nothing"),
        ("ending", "points-9"),
        ("role-1", "999999"),
        ("defence", "bluff"),
    ],
)
def test_what_is_odd_is_said_at_its_field(cast: Cast, field: str, value: str) -> None:
    client = cast.client(cast.head)
    path = reverse("new-called", args=[cast.game.pk, cast.entry.pk])
    form = filled(client.get(path).content.decode())
    sent = form | {"look": "none", "ending": "turnover", field: value}
    answer = client.post(path, sent)
    assert answer.status_code == 422
    assert f'aria-describedby="id_{field}' in answer.content.decode()
    assert counted(cast) == 0


def test_one_entered_by_hand_counts_once(cast: Cast) -> None:
    client = cast.client(cast.assistant)
    path = reverse("new-called", args=[cast.game.pk, cast.entry.pk])
    form = filled(client.get(path).content.decode())
    five = {f"role-{n}": str(p.pk) for n, p in enumerate(cast.players[:5], start=1)}
    sent = form | five | {"look": "look-slot", "ending": "points-3", "clock": "4:05"}
    for _ in range(2):
        answer = client.post(path, sent)
        assert answer.status_code == 302, re.findall("error.*", answer.content.decode())
    assert counted(cast) == 1
    row = CalledPlay.objects.get()
    assert (row.points, row.clock, row.logged_by) == (3, 245, cast.assistant)
    assert sum(RepSum.objects.values_list("count", flat=True)) == 5


def test_two_roles_of_one_person_are_said(cast: Cast) -> None:
    client = cast.client(cast.head)
    path = reverse("new-called", args=[cast.game.pk, cast.entry.pk])
    form = filled(client.get(path).content.decode())
    who = str(cast.players[0].pk)
    sent = form | {"look": "none", "ending": "reset", "role-1": who, "role-2": who}
    answer = client.post(path, sent)
    assert answer.status_code == 422
    assert "five different people" in answer.content.decode()


def test_one_is_taken_back_once(cast: Cast) -> None:
    one = called(cast)
    send(cast, one)
    client = cast.client(cast.head)
    path = reverse("take-called-back", args=[cast.game.pk, one["id"]])
    for _ in range(2):
        assert client.post(path).status_code == 302
    assert counted(cast) == 0
    assert not RepSum.objects.exists()
    assert cast.team.undos.count() == 1
    edit = reverse("edit-called", args=[cast.game.pk, one["id"]])
    assert client.get(edit).status_code == 404


@pytest.mark.parametrize("name", ["edit-called", "take-called-back"])
def test_a_possession_is_nobody_elses(cast: Cast, name: str) -> None:
    """Neither a stranger's, nor under another game of the same team."""
    one = called(cast)
    send(cast, one)
    other = factories.GameFactory.create(team=cast.team, opponent="Elsewhere")
    tries: list[tuple[Any, int]] = [(cast.stranger, cast.game.pk), (cast.head, other.pk)]
    for user, game in tries:
        path = reverse(name, args=[game, one["id"]])
        client = cast.client(user)
        answer = client.get(path) if name == "edit-called" else client.post(path)
        assert answer.status_code == 404
    assert counted(cast) == 1


def test_as_many_queries_for_a_whole_game_as_for_one_possession(cast: Cast) -> None:
    client = cast.client(cast.head)

    def queries() -> int:
        with CaptureQueriesContext(connection) as seen:
            assert client.get(reverse("game", args=[cast.game.pk])).status_code == 200
        return len(seen)

    send(cast, called(cast))
    queries()
    few = queries()
    send(cast, *(called(cast) for _ in range(60)))
    assert queries() == few


def test_every_result_can_be_chosen_and_is_told_apart() -> None:
    told = [label for _value, label in endings()]
    assert len(set(told)) == len(told) == 12
    assert {value.partition("-")[0] for value, _ in endings()} == {r.value for r in CallResult}
    assert [result_told(CallResult.POINTS, n) for n in (0, 1, 2)] == [
        "Missed",
        "1 point",
        "2 points",
    ]
    assert [clock_told(n) for n in (None, 0, 61, 1200)] == ["", "0:00", "1:01", "20:00"]
