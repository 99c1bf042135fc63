"""A play with several calls on every paper and page that lists calls: names filled, jobs told."""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.urls import reverse
from pypdf import PdfReader

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.play import Swap, Variant
from tests.cast import Cast
from tests.roster.sheets.printed import answer_with

FAR = Variant("Far", "one fist", mirror=True)
BOTH = Variant("Back {3}", "two fists", (Swap("2", "3"),), mirror=True)


@pytest.fixture
def gates(cast: Cast, tmp_path: Path, settings: Any) -> Cast:
    """Noor is called by the play's first call, Ada by its second."""
    settings.DATA = tmp_path
    tide = demo_play("tidegate")
    play = factories.published(replace(tide, variants=(*tide.variants, FAR, BOTH)), cast.keeper)
    entry = factories.PackagePlayFactory.create(
        team=cast.team, play=play, call="Tide {2}", signal="one hand parts the air"
    )
    for role, player in enumerate(cast.players[:5], start=1):
        factories.CastingFactory.create(entry=entry, role=str(role), player=player)
    return cast


def words(data: bytes) -> str:
    return " ".join(
        " ".join(leaf.extract_text().split()) for leaf in PdfReader(io.BytesIO(data)).pages
    )


def paper(cast: Cast, kind: str) -> str:
    return words(bytes(answer_with(cast, kind).content))


def test_the_card_of_the_calls_has_a_line_for_each(gates: Cast) -> None:
    said = paper(gates, "calls")
    assert "{" not in said
    for call, sign in (
        ("Tide Noor", "one hand parts the air"),
        ("Tide Ada", "both hands part the air"),
        ("Far", "one fist"),
        ("Back Ada", "two fists"),
    ):
        assert call in said
        assert sign in said


@pytest.mark.parametrize("kind", ["wrist", "pocket"])
def test_a_card_says_whose_job_it_is_on_each_call(kind: str, gates: Cast) -> None:
    said = paper(gates, kind)
    assert "Tide Ada 2 as 3" in said
    assert "Tide Ada 3 as 2" in said
    assert "Tide Ada 4" in said, "a call that changes nothing for somebody is still to be known"
    assert "Far 4, other side" in said
    assert "Back Ada 2 as 3, other side" in said


def test_a_handout_says_what_each_call_changes(gates: Cast) -> None:
    said = paper(gates, "handouts")
    assert "Tide Ada Noor (2) and Ada (3) do each other's job, each from their own start." in said
    assert "Far It runs from the other side. · Signal: one fist" in said


def test_the_booklet_lists_each_call_with_its_page(gates: Cast) -> None:
    path = reverse("sheet-pdf", args=[gates.players[1].pk])
    said = words(bytes(gates.client(gates.assistant).get(path).content))
    assert "Tide Ada" in said
    assert "role 2 as 3 · both hands part the air" in said


def test_the_five_and_its_card_hear_each_call(gates: Cast) -> None:
    client = gates.client(gates.assistant)
    five = "&".join(f"on={player.pk}" for player in gates.players[:5])
    page = client.get(f"{reverse('the-five', args=[gates.team.pk])}?{five}").content.decode()
    card = words(bytes(client.get(f"{reverse('bench-card', args=[gates.team.pk])}?{five}").content))
    for said in (page, card):
        assert "Tide Noor" in said
        assert "Tide Ada" in said
        assert "both hands part the air" in said


def test_the_play_page_says_names_where_a_team_is_looked_at(gates: Cast) -> None:
    path = reverse("play", args=["tidegate"])
    client = gates.client(gates.head)
    plain = client.get(path).content.decode()
    named = client.get(f"{path}?team={gates.team.pk}").content.decode()
    assert "Tide 3" in plain
    assert "Tide Ada" in named
    assert "{3}" not in plain + named


def test_the_tag_of_a_finding_is_filled(gates: Cast) -> None:
    far = Variant("Tide {4}", swaps=(Swap("2", "4", stay=True),))
    play = replace(demo_play("tidegate"), key="ebb", name="Ebb", variants=(far,))
    factories.published(play, gates.keeper)
    said = gates.client(gates.keeper).get(reverse("check", args=["ebb"])).content.decode()
    assert "call: Tide 4" in said
    assert "{4}" not in said


@pytest.mark.parametrize(
    "place",
    [
        "package",
        "cast",
        "cast-play",
        "player-cast",
        "coverage",
        "the-five",
        "readiness",
        "readiness-curve",
        "team",
        "practice",
        "court-now",
        "log",
        "sheet",
    ],
)
def test_a_place_that_lists_a_play_lists_each_of_its_calls(place: str, gates: Cast) -> None:
    entry = gates.team.package.get(play__key="tidegate")
    arguments = {
        "cast-play": entry.pk,
        "log": gates.practice.pk,
        "practice": gates.practice.pk,
        "court-now": gates.practice.pk,
        "sheet": gates.players[1].pk,
        "player-cast": gates.players[1].pk,
    }
    factories.BlockFactory.create(practice=gates.practice, kind="install", entry=entry, mode="live")
    key = arguments.get(place, gates.team.pk)
    of_role = [gates.players[1].pk, entry.pk, "2"]
    path = reverse(place, args=of_role if place == "readiness-curve" else [key])
    five = "&".join(f"five={player.pk}" for player in gates.players[:5])
    query = f"?{five}" if place == "the-five" else ""
    said = gates.client(gates.head).get(path + query).content.decode()
    for call in ("Tide Noor", "Tide Ada", "Far", "Back Ada"):
        assert call in said, call


def test_the_print_of_a_plan_says_each_call_of_a_block(gates: Cast) -> None:
    entry = gates.team.package.get(play__key="tidegate")
    factories.BlockFactory.create(practice=gates.practice, kind="install", entry=entry, mode="live")
    path = reverse("plan-pdf", args=[gates.practice.pk])
    said = words(bytes(gates.client(gates.assistant).get(path).content))
    assert "Tide Noor also Tide Ada, Far, Back Ada" in said


def test_a_card_of_the_library_names_the_calls_of_a_play_that_has_several(gates: Cast) -> None:
    said = gates.client(gates.keeper).get(reverse("library")).content.decode()
    assert "Calls: Tide 2, Tide 3, Far, Back 3" in said
    assert said.count("Calls: ") == 1, "a play with one call has none to tell apart"


def test_a_play_is_found_by_each_of_its_calls(cast: Cast) -> None:
    tide = replace(demo_play("tidegate"), variants=(Variant("Zephyr {3}", mirror=True),))
    factories.published(tide, cast.keeper)
    for words_of_it in ("zephyr", "zephyr 3", "Tide 2"):
        found = cast.client(cast.keeper).get(reverse("library"), {"text": words_of_it})
        said = found.content.decode()
        assert "Tidegate" in said
        assert "Gangway" not in said
