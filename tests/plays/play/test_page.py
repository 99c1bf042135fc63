"""The page of a play: what it shows, moved and on other courts, and its pictures as files."""

from __future__ import annotations

import io
import json
import re
from dataclasses import replace
from html import unescape

import pytest
from django.urls import reverse
from PIL import Image
from pypdf import PdfReader

from coachbook.demo.factories import published
from coachbook.demo.files import demo_play
from plays.core.document.file import read_play, to_json
from plays.core.moves.moves import mirror, slide, turn
from plays.core.moves.off_court import off_court, pull_in
from plays.core.moves.other_court import on_court
from plays.core.moves.variants import expanded
from plays.core.play import RuleSet
from plays.library.changes import save_draft
from plays.play.pictures import choices_of
from plays.search import search_text
from shared.core.language import ENGLISH
from tests.cast import FIVE, Cast
from tests.plays.core.drawing.drawn_plays import QUAYSIDE

GANGWAY = demo_play("gangway")


def shown(cast: Cast, query: str = "", key: str = "gangway") -> str:
    response = cast.client(cast.assistant).get(reverse("play", args=[key]) + query)
    assert response.status_code == 200
    return str(response.content.decode())


def seen_play(cast: Cast, query: str) -> object:
    response = cast.client(cast.assistant).get(reverse("play", args=["gangway"]) + query)
    return response.context["value"]


def test_everything_the_coach_wrote_is_there(cast: Cast) -> None:
    said = re.sub(r"&#x27;", "'", shown(cast))
    texts = [GANGWAY.name, GANGWAY.use, *GANGWAY.teach, *GANGWAY.errors, *GANGWAY.cautions]
    texts += [phase.title for phase in GANGWAY.phases]
    texts += [look.condition for look in GANGWAY.looks if look.condition]
    texts += [counter.says for counter in GANGWAY.counters]
    texts += [line for action in GANGWAY.actions() for line in action.teach]
    assert [text for text in texts if text not in said] == []


def test_a_guess_is_called_a_guess(cast: Cast) -> None:
    response = cast.client(cast.head).get(reverse("play", args=["gangway"]))
    looks = response.context["view"].looks
    guesses = [round(100 * look.guess) for look in GANGWAY.looks if look.guess is not None]
    assert [look.guess for look in looks if look.guess is not None] == guesses
    for guess in guesses:
        assert f"coach's guess: there {guess} % of the time" in response.content.decode()


def test_one_diagram_for_each_phase_and_each_that_a_counter_changes(cast: Cast) -> None:
    view = cast.client(cast.head).get(reverse("play", args=["gangway"])).context["view"]
    assert [figure.caption for figure in view.figures] == [p.title for p in GANGWAY.phases]
    pictures = [figure.what for figure in view.figures]
    pictures += [figure.what for counter in view.counters for figure in counter.figures]
    assert pictures == [what for what, _ in choices_of(GANGWAY)][1:]
    assert all(counter.figures for counter in view.counters)


def test_ids_on_the_page_are_unique(cast: Cast) -> None:
    ids = re.findall(r'\bid="([^"]+)"', shown(cast, f"?defenders=on&team={cast.team.pk}"))
    assert len(ids) == len(set(ids))


def test_each_roles_part_in_words(cast: Cast) -> None:
    said = shown(cast)
    assert said.count('class="card role-part"') == 5
    assert "You throw the ball in from" in said


def test_names_come_from_the_teams_cast(cast: Cast) -> None:
    plain, named = shown(cast), shown(cast, f"?team={cast.team.pk}&label=both")
    for name in FIVE:
        assert f">{name}<" not in plain
        assert f">{name}<" in named  # in a diagram
    assert "who call it “Gangway Zoë”" in named
    assert "Ida (1) to" in named  # in the looks


def test_another_teams_cast_stays_its_own(cast: Cast) -> None:
    path = reverse("play", args=["gangway"]) + f"?team={cast.team.pk}"
    response = cast.client(cast.stranger).get(path)
    assert "Zoë" not in response.content.decode()


# What is shown is held against the moves themselves, whose geometry has its own tests.
def test_moves_are_computed_for_the_page(cast: Cast) -> None:
    assert seen_play(cast, "?mirror=on") == mirror(GANGWAY)
    assert seen_play(cast, "?turn=on") == turn(GANGWAY)
    assert seen_play(cast, "?along=5.5") == slide(GANGWAY, 5.5)
    assert seen_play(cast, "?turn=on&along=4") == turn(GANGWAY, 4.0)
    assert seen_play(cast, "?court=NBA") == on_court(GANGWAY, RuleSet.NBA)
    both = mirror(on_court(GANGWAY, RuleSet.NFHS))
    assert seen_play(cast, "?mirror=on&court=NFHS") == both
    assert cast.play.revisions.count() == 1


def test_what_does_not_fit_is_said_and_can_be_pulled_in(cast: Cast) -> None:
    pushed = slide(GANGWAY, 0.5)
    sentences = {found.sentence(ENGLISH) for found in off_court(pushed)}
    assert sentences
    said = shown(cast, "?along=0.5")
    assert [sentence for sentence in sentences if sentence not in said] == []
    pulled = seen_play(cast, "?along=0.5&pull_in=on")
    assert pulled == pull_in(pushed)
    assert "pull_in=on" in said
    assert "not fit as" not in shown(cast, "?along=0.5&pull_in=on")


@pytest.mark.parametrize(
    ("query", "told"),
    [
        ("?along=99", "The sideline runs from 0 to 28.00 m."),
        ("?along=99&court=NFHS", "The sideline runs from 0 to 25.60 m."),
        ("?along=9&turn=on", "The baseline runs from 0, behind the basket, to 7.50 m."),
        ("?along=-1", "0 or more"),
        ("?along=x", "Write a number."),
        ("?court=MOON", "This is none of the choices."),
    ],
)
def test_a_faulty_switch_is_told_at_its_place(query: str, told: str, cast: Cast) -> None:
    response = cast.client(cast.head).get(reverse("play", args=["gangway"]) + query)
    assert response.status_code == 422
    assert told in response.content.decode()
    assert response.context["value"] == GANGWAY


def test_defenders_stand_for_everybody(cast: Cast) -> None:
    with_them = shown(cast, "?defenders=on")
    first = with_them[with_them.index('id="view"') :]
    first = first[first.index("<svg") : first.index("</svg>")]
    assert first.count("data-guards=") == 5
    assert "data-guards=" not in shown(cast)


def test_a_play_without_a_throw_in_offers_no_turn(cast: Cast) -> None:
    published(demo_play("harbour-light"))
    said = shown(cast, key="harbour-light")
    assert 'name="mirror"' in said
    assert 'name="turn"' not in said
    assert shown(cast, "?turn=on&along=3", key="harbour-light")  # and ignores it in an address


def test_a_throw_in_from_the_own_baseline_is_slid_and_mirrored_but_not_turned(cast: Cast) -> None:
    published(QUAYSIDE)
    said = shown(cast, key="quayside")
    assert 'name="along"' in said
    assert 'name="turn"' not in said
    address = reverse("play", args=["quayside"]) + "?turn=on&along=2&mirror=on"
    response = cast.client(cast.assistant).get(address)
    assert response.context["value"] == slide(mirror(QUAYSIDE), 2.0)


def test_each_call_of_a_play_is_told_shown_and_checked(cast: Cast) -> None:
    play = demo_play("tidegate")
    published(play)
    said = unescape(shown(cast, key="tidegate"))
    assert "Tide 3" in said
    assert "2 and 3 do each other's job, each from their own start." in said
    client = cast.client(cast.assistant)
    called = client.get(reverse("play", args=["tidegate"]) + "?called=1")
    assert called.context["value"] == expanded(play, play.variants[0])
    assert "As it is run on the call “Tide 3”." in unescape(called.content.decode())
    assert "Keep this as a play" not in called.content.decode()
    checked = client.get(reverse("check", args=["tidegate"]) + "?called=1")
    assert checked.context["value"].call == "Tide {3}"
    assert 'name="called" value="1"' in checked.content.decode()
    odd = client.get(reverse("play", args=["tidegate"]) + "?called=7")
    assert odd.context["value"] == play
    assert 'name="called"' not in shown(cast)


def test_the_library_finds_a_play_by_any_of_its_calls() -> None:
    assert "tide {3}" in search_text(to_json(demo_play("tidegate")))


def picture(cast: Cast, query: str) -> bytes:
    path = reverse("play-picture", args=["gangway", 1]) + query
    response = cast.client(cast.assistant).get(path)
    assert response.status_code == 200, query
    assert "attachment" in response.headers["Content-Disposition"]
    return bytes(response.content)


@pytest.mark.parametrize("scale", [1, 2, 3, 4])
def test_png_in_four_sizes(scale: int, cast: Cast) -> None:
    image = Image.open(io.BytesIO(picture(cast, f"?what=phase-1&format=png&scale={scale}")))
    assert image.width == 360 * scale


def test_pdf_says_the_same_words(cast: Cast) -> None:
    team = cast.team.pk
    pdf = PdfReader(io.BytesIO(picture(cast, f"?what=overview&format=pdf&team={team}")))
    assert len(pdf.pages) == 1
    text = pdf.pages[0].extract_text()
    for phase in GANGWAY.phases:
        assert phase.title in text
    assert "Ida" in text


def test_svg_as_seen_on_the_page(cast: Cast) -> None:
    plain = picture(cast, "?what=counter-1-phase-2&format=svg")
    moved = picture(cast, "?what=counter-1-phase-2&format=svg&mirror=on")
    assert plain.startswith(b"<?xml")
    assert plain != moved
    assert picture(cast, "?format=svg&scheme=print") == picture(cast, "?scheme=print")


@pytest.mark.parametrize(
    "query", ["?what=phase-9", "?what=x", "?format=gif", "?scale=5", "?along=99"]
)
def test_no_picture_of_what_is_not_there(query: str, cast: Cast) -> None:
    path = reverse("play-picture", args=["gangway", 1]) + query
    assert cast.client(cast.head).get(path).status_code == 404


def test_the_play_file_reads_back_as_the_play(cast: Cast) -> None:
    response = cast.client(cast.assistant).get(reverse("play-file", args=["gangway", 1]))
    assert read_play(response.content) == GANGWAY
    assert json.loads(response.content)["coachbook_play"] == 1


@pytest.mark.parametrize("name", ["revision", "play-file", "play-picture"])
def test_a_draft_is_for_keepers(name: str, cast: Cast) -> None:
    save_draft(cast.play, replace(GANGWAY, use="Secret."), cast.keeper)
    path = reverse(name, args=["gangway", 2])
    assert cast.client(cast.keeper).get(path).status_code == 200
    assert cast.client(cast.head).get(path).status_code == 404
    card = reverse("play-card", args=["gangway", 2, "light"])
    assert cast.client(cast.head).get(card).status_code == 404


def test_the_page_says_which_teams_carry_it(cast: Cast) -> None:
    said = cast.client(cast.runner).get(reverse("play", args=["gangway"])).content.decode()
    assert reverse("cast-play", args=[cast.entry.pk]) in said
    assert reverse("take-up", args=[cast.other_team.pk, "gangway"]) in said
    theirs = cast.client(cast.assistant).get(reverse("play", args=["gangway"])).content.decode()
    assert str(cast.team) in theirs
    assert reverse("cast-play", args=[cast.entry.pk]) not in theirs
    assert str(cast.other_team) not in theirs


def test_the_heading_of_a_turned_play_says_the_line_it_is_thrown_in_from(cast: Cast) -> None:
    address = reverse("play", args=[cast.play.key])
    client = cast.client(cast.head)
    assert "Sideline inbound ·" in " ".join(client.get(address).content.decode().split())
    turned = " ".join(client.get(address, {"turn": "on"}).content.decode().split())
    assert "Baseline inbound ·" in turned
    assert "Sideline inbound ·" not in turned


def test_a_rotation_says_after_which_look_it_is_written(cast: Cast) -> None:
    """In Foghorn the 5 shoots in the last phase: only look 1 brings the ball there."""
    published(demo_play("foghorn"))
    for address in ("play", "check"):
        page = cast.client(cast.assistant).get(reverse(address, args=["foghorn"])).content.decode()
        assert page.count('<span class="tag">after look 1</span>') == 1, address
    assert "after look" not in shown(cast)
