"""Finding plays: by words, situation, formation, series and level; what is on which shelf."""

from __future__ import annotations

from dataclasses import replace

import pytest
from django.urls import reverse

from coachbook.demo.factories import published
from coachbook.demo.files import demo_play, demo_plays
from plays.core.drawing.options import Drawing
from plays.core.drawing.phase import diagram
from plays.core.play import AgeGroup, Play
from plays.library.browse import levels_up_to
from plays.library.changes import put_away, save_draft
from plays.search import folded, search_text
from shared import pieces
from shared.core.drawing.picture import Picture
from tests.cast import Cast


@pytest.fixture
def shelf(cast: Cast) -> list[Play]:
    """All the demo club's plays in the library; Gangway is there already."""
    values = [value for value in demo_plays() if value.key != cast.play.key]
    for value in values:
        published(value)
    return [*values, demo_play("gangway")]


def names(cast: Cast, query: str = "", user: str = "assistant") -> set[str]:
    response = cast.client(getattr(cast, user)).get(reverse("library") + query)
    assert response.status_code == 200
    return {play.name for play in response.context["plays"]}


# Unicode 15, chapter 3.13: case folding; annex 15: NFKD takes an accent off its letter.
@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ("Zoë", "zoe"),
        ("ÉCRAN  Bloqué", "ecran bloque"),
        ("Straße", "strasse"),
        ("Åse Øby", "ase oby"),
        ("İzmir", "izmir"),
        ("Łódź", "lodz"),
        ("ﬁnish", "finish"),
    ],
)
def test_folding(typed: str, kept: str) -> None:
    assert folded(typed) == kept
    assert folded(kept) == kept


def test_every_text_of_a_play_can_be_found() -> None:
    document = {
        "name": "Néon",
        "use": "Late",
        "teach": ["Wait."],
        "phases": [{"title": "Écran"}],
        "looks": [{"condition": "Alone"}, {}],
        "counters": [{"says": "They jump"}],
    }
    assert search_text(document).splitlines() == [
        "neon",
        "late",
        "wait.",
        "ecran",
        "alone",
        "they jump",
    ]


@pytest.mark.parametrize("words", ["gangwäy", "GANGWAY", "way gang", "  pressure   thrower "])
def test_words_without_accents_capitals_and_order(words: str, cast: Cast) -> None:
    assert names(cast, f"?text={words}") == {"Gangway"}


@pytest.mark.parametrize("words", ["gangways", "100%", "_", "gang\\way"])
def test_words_that_are_not_there(words: str, cast: Cast) -> None:
    assert names(cast, "?text=" + words.replace("%", "%25")) == set()


@pytest.mark.parametrize("field", ["situation", "formation", "series"])
def test_one_filter_keeps_just_its_plays(field: str, cast: Cast, shelf: list[Play]) -> None:
    for value in {str(getattr(play, field)) for play in shelf} - {""}:  # no series filters nothing
        expected = {play.name for play in shelf if str(getattr(play, field)) == value}
        assert names(cast, f"?{field}={value}") == expected


def test_a_group_runs_what_is_meant_for_it_and_for_younger(cast: Cast, shelf: list[Play]) -> None:
    order = list(AgeGroup)
    expected = {play.name for play in shelf if order.index(play.level) <= order.index(AgeGroup.U14)}
    assert 0 < len(expected) < len(shelf)
    assert names(cast, "?level=U14") == expected
    assert levels_up_to("U14") == ["U10", "U12", "U14"]


def test_filters_together_and_one_that_cannot_be_read(cast: Cast, shelf: list[Play]) -> None:
    assert names(cast, "?situation=baseline&formation=stack") == {"Oar Rack"}
    assert names(cast, "?situation=nonsense") == {play.name for play in shelf}
    assert names(cast, "?situation=nonsense&formation=stack&situation=baseline") == {"Oar Rack"}


def test_plays_come_by_situation_then_name(cast: Cast, shelf: list[Play]) -> None:
    response = cast.client(cast.head).get(reverse("library"))
    listed = [(play.situation, play.name) for play in response.context["plays"]]
    order = ["sideline", "baseline", "press_break", "half_court", "after_timeout", "last_shot"]
    assert listed == sorted(listed, key=lambda pair: (order.index(pair[0]), pair[1]))
    assert len(listed) == len(shelf)


def test_htmx_gets_the_part_and_everybody_the_same_plays(cast: Cast, shelf: list[Play]) -> None:
    client, path = cast.client(cast.head), reverse("library") + "?text=lantern"
    whole, part = client.get(path), client.get(path, headers={"HX-Request": "true"})
    assert whole.content.startswith(b"<!doctype html>")
    assert b"<html" not in part.content
    assert b'id="found"' in part.content
    assert whole.context["count"] == part.context["count"] > 0


def test_drafts_and_plays_put_away_are_for_keepers(cast: Cast) -> None:
    oar = published(demo_play("oar-rack"))
    put_away(oar, cast.keeper)
    save_draft(cast.play, replace(demo_play("gangway"), name="Gangplank"), cast.keeper)
    assert names(cast) == {"Gangway"}
    assert names(cast, "?shelf=away", "keeper") == {"Oar Rack"}
    assert names(cast, "?shelf=drafts", "keeper") == {"Gangway"}
    assert names(cast, "?shelf=away") == {"Gangway"}  # an assistant cannot ask for it
    assert names(cast, "?text=gangplank", "keeper") == set()  # words of a draft do not count


def test_card_pictures_are_drawn_once_and_kept(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    pieces.drop(pieces.LIBRARY)
    drawn: list[str] = []

    def counted(play: Play, phase: str, drawing: Drawing) -> Picture:
        drawn.append(phase)
        return diagram(play, phase, drawing)

    monkeypatch.setattr("plays.play.pictures.diagram", counted)
    client = cast.client(cast.head)
    path = reverse("play-card", args=["gangway", 1, "dark"])
    first, again = client.get(path), client.get(path)
    assert first.content == again.content
    assert first.content.startswith(b"<?xml")
    assert b"#171614" in first.content  # the dark paper
    assert len(drawn) == 1
    assert first.headers["Content-Type"].startswith("image/svg+xml")
    assert "max-age" in first.headers["Cache-Control"]
    assert "private" in first.headers["Cache-Control"]


def test_the_list_opens_no_document(cast: Cast, shelf: list[Play]) -> None:
    response = cast.client(cast.head).get(reverse("library"))
    assert all(
        "document" in play.current.get_deferred_fields() for play in response.context["plays"]
    )
    assert response.content.count(b"card-light.svg") == len(shelf)


def test_an_empty_library_says_what_to_do(cast: Cast) -> None:
    put_away(cast.play, cast.keeper)
    said = cast.client(cast.keeper).get(reverse("library")).content.decode()
    assert "The library is empty." in said
    assert reverse("new-play") in said
    assert (
        "Leave something out"
        in cast.client(cast.head).get(reverse("library") + "?text=zzz").content.decode()
    )
