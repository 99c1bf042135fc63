"""The call sheet as the server gives it: who is on it, what it carries, boards and paper."""

from __future__ import annotations

import io
import json
import re
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone
from pypdf import PdfReader

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.play import Swap, Variant
from practice.calls.known import game_calls
from practice.models import SquadMark
from roster.core.coverage.floor_five import NotAFiveError
from roster.models import Availability
from tests.cast import Cast
from tests.practice.games.taps import called, send, today


@pytest.fixture(autouse=True)
def game_day(cast: Cast) -> Cast:
    return today(cast)


def carried(page: str) -> dict[str, Any]:
    found = re.search(r'id="calls-data" type="application/json">(.*?)</script>', page, re.DOTALL)
    assert found, page
    data: dict[str, Any] = json.loads(found[1])
    return data


def sheet(cast: Cast, language: str = "en") -> dict[str, Any]:
    client = cast.client(cast.assistant)
    client.cookies["django_language"] = language
    path = reverse("call-sheet", args=[cast.game.pk])
    return carried(client.get(path, headers={"accept-language": language}).content.decode())


def paper(cast: Cast, query: str = "") -> tuple[list[str], Any]:
    client = cast.client(cast.assistant)
    answer = client.get(reverse("call-sheet-pdf", args=[cast.game.pk]) + query)
    assert answer.status_code == 200
    pages = PdfReader(io.BytesIO(answer.content)).pages
    return [page.extract_text() for page in pages], pages[0].mediabox


def out_today(cast: Cast, at: int) -> None:
    SquadMark.objects.create(game=cast.game, player=cast.players[at], is_out=True)


def test_the_sheet_carries_today_s_squad_and_who_knows_what(cast: Cast) -> None:
    data = sheet(cast)
    assert [each["id"] for each in data["players"]] == [player.pk for player in cast.players]
    assert data["floor"] == [player.pk for player in cast.players[:5]]
    (play,) = data["plays"]
    assert play["first"] == data["floor"]
    assert ["5", 2, cast.players[5].pk, 0, 0] in play["cast"]
    assert not data["logged"]  # no rep of anybody: nobody is called unready
    (line,) = data["lines"]
    assert (line["call"], line["occasion"], line["log"]) == ("Gangway {5}", "Right sideline", "")


def test_who_is_out_today_is_nowhere_on_it_and_the_next_in_depth_is(cast: Cast) -> None:
    out_today(cast, 4)
    data = sheet(cast)
    away, second = cast.players[4].pk, cast.players[5].pk
    assert away not in {each["id"] for each in data["players"]}
    assert away not in {cell[2] for cell in data["plays"][0]["cast"]}
    assert data["plays"][0]["first"][4] == second
    assert data["floor"] == [*(player.pk for player in cast.players[:4]), second]
    assert data["units"] == []  # the unit is not whole today


def test_out_until_cleared_is_out_whatever_the_squad_says(cast: Cast) -> None:
    hurt = cast.players[0]
    hurt.availability = Availability.OUT
    hurt.save()
    SquadMark.objects.create(game=cast.game, player=hurt, is_out=False)
    assert hurt.pk not in {each["id"] for each in sheet(cast)["players"]}
    with pytest.raises(NotAFiveError, match="out today"):
        game_calls(cast.game).fillings([player.pk for player in cast.players[:5]])


@pytest.mark.parametrize("left", [4, 0])
def test_fewer_than_five_lead_to_the_squad(cast: Cast, left: int) -> None:
    for at in range(left, len(cast.players)):
        out_today(cast, at)
    page = cast.client(cast.head).get(reverse("call-sheet", args=[cast.game.pk]))
    assert "There are not five players in the squad of this game." in page.content.decode()
    texts, _ = paper(cast)
    assert len(texts) == 1


def test_without_a_package_it_says_so(cast: Cast) -> None:
    cast.entry.dropped_on = timezone.localdate()
    cast.entry.save()
    page = cast.client(cast.head).get(reverse("call-sheet", args=[cast.game.pk]))
    assert "nothing to call" in page.content.decode()
    assert len(paper(cast)[0]) == 1


def test_what_was_logged_tells_why_and_how_ready_they_are(cast: Cast) -> None:
    send(cast, *(called(cast) for _ in range(3)), called(cast, taken="none", look=None))
    data = sheet(cast)
    seen = "1 to 5, overhead pass: there 3 of 4 times"
    assert data["plays"][0]["why"] == f"{seen} against a switching defence"
    assert data["logged"]
    cast.observation.opponent.observations.update(zone=9, chase=0, situation="sideline")
    against = sheet(cast)["plays"][0]
    assert against["why"] == seen  # a zone was not met yet: what all of them told
    assert 0 < against["chance"] < 1


def test_a_game_ahead_is_judged_by_what_is_left_of_readiness_then(cast: Cast) -> None:
    send(cast, *(called(cast) for _ in range(12)))
    now = sheet(cast)["plays"][0]["cast"][0][4]
    cast.game.date += timedelta(days=120)
    cast.game.save()
    assert sheet(cast)["plays"][0]["cast"][0][4] < now


def test_a_play_taught_from_both_sides_stands_under_both(cast: Cast) -> None:
    turned, swapped = (
        Variant("Quay {5}", "a fist", mirror=True),
        Variant("Pier", swaps=(Swap("2", "3"),)),
    )
    variants = (swapped, turned, Variant("Mole", mirror=True))
    value = replace(demo_play("gangway"), key="quay", name="Quay", variants=variants)
    carries = {"team": cast.team, "play": factories.published(value), "call": "Ramp"}
    entry = factories.PackagePlayFactory.create(**carries)
    lines = [line for line in sheet(cast)["lines"] if line["play"] == entry.pk]
    assert [(each["occasion"], each["call"], each["log"], each["sign"]) for each in lines] == [
        ("Left sideline", "Quay {5}", "Quay {5}", "a fist"),
        ("Right sideline", "Ramp", "", entry.signal),
    ]
    assert [each["further"] for each in lines] == [[], ["Pier"]]
    boards = [cast.client(cast.head).get(each["board"]).json() for each in lines]
    left, right = (each["motion"]["roles"]["1"][0] for each in boards)
    assert left == pytest.approx(-right) != 0  # x runs across the court


def test_a_board_holds_motion_and_phases_and_names_nobody(cast: Cast) -> None:
    (line,) = sheet(cast)["lines"]
    client = cast.client(cast.assistant)
    answer = client.get(line["board"])
    board = answer.json()
    play = demo_play("gangway")
    assert [each["title"] for each in board["phases"]] == [phase.title for phase in play.phases]
    assert set(board["motion"]["roles"]) == set("12345")
    assert board["motion"]["moments"]
    assert all(f'data-mover="{role}"' in board["svg"] for role in "12345")
    text = answer.content.decode()
    assert not [player.name for player in cast.players if player.name in text]
    assert len(answer.content) < 40_000
    again = client.get(line["board"], headers={"if-none-match": answer.headers["ETag"]})
    assert again.status_code == 304


def test_an_older_board_s_address_gets_the_present_one_to_be_kept_nowhere(cast: Cast) -> None:
    (line,) = sheet(cast)["lines"]
    client = cast.client(cast.assistant)
    old = re.sub(r"[0-9a-f]{12}\.json", "0" * 12 + ".json", line["board"])
    answer = client.get(old)
    assert answer.content == client.get(line["board"]).content
    assert answer.headers["Cache-Control"] == "private, no-store"


def test_a_board_s_address_follows_the_play_and_the_team_s_pace(cast: Cast) -> None:
    before = sheet(cast)["lines"][0]["board"]
    assert sheet(cast)["lines"][0]["board"] == before
    cast.team.age_group = "U12" if cast.team.age_group != "U12" else "U14"
    cast.team.save()
    assert sheet(cast)["lines"][0]["board"] != before


@pytest.mark.parametrize("call", [1, 99])
def test_a_call_that_the_play_has_not_and_a_play_of_others_are_not_there(
    cast: Cast, call: int
) -> None:
    client = cast.client(cast.assistant)
    of = (cast.game.pk, cast.entry.pk)
    assert client.get(reverse("call-board", args=[*of, call, "0" * 12])).status_code == 404
    other = factories.PackagePlayFactory.create(team=cast.other_team, play=cast.play)
    theirs = reverse("call-board", args=[cast.game.pk, other.pk, 0, "0" * 12])
    assert client.get(theirs).status_code == 404


def test_the_paper_is_one_page_by_occasion_with_who_does_what(cast: Cast) -> None:
    (text,), box = paper(cast)
    assert float(box.width) == pytest.approx(841.9, abs=0.1)  # ISO 216: A4 is 297 mm long
    for words in (
        "Call sheet of Herons 2026/27 against Millbrook",
        "Right sideline",
        "Gangway Zoë",
        "1 Ida",
        "no rep logged",
    ):
        assert words in text
    _, letter = paper(cast, "?paper=letter")
    assert float(letter.width) == 792  # ANSI Y14.1: Letter is 11 inches long
    assert len(paper(cast, "?paper=parchment")[0]) == 1


def test_the_paper_has_the_five_asked_for_first(cast: Cast) -> None:
    five = [*cast.players[:4], cast.players[5]]
    query = "?" + "&".join(f"on={player.pk}" for player in five)
    text = paper(cast, query)[0][0]
    assert text.index("This five") < text.index("Gangway Runa") < text.index("Gangway Zoë")
    strange = paper(cast, f"?on={cast.other_player.pk}&on=nobody&on={'9' * 40}")[0][0]
    assert "This five" not in strange


def test_forty_plays_with_long_calls_still_make_one_page(cast: Cast) -> None:
    for n in range(39):
        value = replace(demo_play("gangway"), key=f"gangway-{n}", name=f"Gangway {n}")
        play = factories.published(value)
        entry = factories.PackagePlayFactory.create(
            team=cast.team, play=play, call=f"A call of many words number {n} for " + "{5}"
        )
        for role, player in enumerate(cast.players[:5], start=1):
            factories.CastingFactory.create(entry=entry, role=str(role), player=player)
    texts, _ = paper(cast)
    assert len(texts) == 1
    assert len(sheet(cast)["plays"]) == 40


def test_the_sheet_speaks_spanish(cast: Cast) -> None:
    data = sheet(cast, "es")
    assert data["words"]["all_ready"] == "los cinco a punto"
    assert data["words"]["changes"].count("{") == 4
    assert data["lines"][0]["occasion"] != "Right sideline"


def test_possessions_and_plays_cost_no_more_queries(cast: Cast) -> None:
    def asked() -> int:
        client = cast.client(cast.assistant)
        path = reverse("call-sheet", args=[cast.game.pk])
        client.get(path)
        with CaptureQueriesContext(connection) as queries:
            client.get(path)
        return len(queries)

    send(cast, called(cast))
    few = asked()
    send(cast, *(called(cast) for _ in range(20)))
    factories.PackagePlayFactory.create(
        team=cast.team, play=factories.published(demo_play("beacon"))
    )
    assert asked() == few
