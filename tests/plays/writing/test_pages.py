"""Writing a play in words: a new one, an old one, and what goes wrong."""

from __future__ import annotations

import pytest
from django.test import Client
from django.urls import reverse

from plays.core.document.form import problems
from plays.core.play import Formation
from plays.core.shorthand.read import read
from plays.core.shorthand.skeleton import PLACES
from plays.core.shorthand.write import shorthand
from plays.models import Play, Revision
from plays.writing.form import BeginForm
from tests.cast import Cast

pytestmark = pytest.mark.django_db

NEW = """\
play: Corner Stone
throw-in: 1, right sideline at 8.325
starts:
2 at the right elbow
3 at the left elbow
4 at the left block
5 at the right block
phase: Entry
4 screens for 2 at the right block
2 cuts to the right corner, when 4 is set
3 cuts to the top
5 posts up
looks:
1 to 2 on 2's cut
"""


@pytest.fixture
def keeper(client: Client, cast: Cast) -> Client:
    client.force_login(cast.keeper)
    return client


def test_a_new_play_is_kept_as_a_draft_once(keeper: Client) -> None:
    for _ in range(2):  # a button pressed twice
        response = keeper.post(reverse("write-play"), {"text": NEW, "note": "First try"})
        assert response.status_code == 302
    draft = Revision.objects.get(play__name="Corner Stone")
    assert (draft.play.key, draft.published_at, draft.note) == ("corner-stone", None, "First try")
    assert draft.value().looks[0].receiver == "2"
    assert response.cookies["written-new"].value == "1"


def test_a_line_that_cannot_be_read_is_told_and_nothing_is_lost(keeper: Client) -> None:
    text = NEW.replace("2 cuts to the right corner", "2 cuts to the right cornet")
    response = keeper.post(reverse("write-play"), {"text": text})
    assert response.status_code == 422
    shown = response.content.decode()
    assert "Line 10: No place is called “right cornet”. Did you mean “right corner”?" in shown
    assert "2 cuts to the right cornet, when 4 is set" in shown
    assert not Play.objects.filter(name="Corner Stone").exists()


def test_a_play_without_a_name_is_not_kept(keeper: Client) -> None:
    response = keeper.post(reverse("write-play"), {"text": NEW.replace("Corner Stone", "")})
    assert response.status_code == 422
    assert "The play has no name" in response.content.decode()


def test_a_faulty_play_may_be_a_draft_and_says_what_is_missing(keeper: Client) -> None:
    keeper.post(reverse("write-play"), {"text": NEW.replace("5 posts up\n", "")})
    draft = Revision.objects.get(play__name="Corner Stone")
    shown = keeper.get(reverse("revision", args=[draft.play.key, 1])).content.decode()
    assert problems(draft.value())[0].sentence in shown.replace("&#x27;", "'")


def test_an_old_play_keeps_its_ids_where_nothing_was_touched(keeper: Client, cast: Cast) -> None:
    play = cast.entry.play
    address = reverse("rewrite-play", args=[play.key])
    before = play.published().value()
    text = shorthand(before).replace("needs:\n", "needs:\n  1 needs reading 2, weight 1\n", 1)
    seen = play.published().content_hash
    assert keeper.post(address, {"text": text, "seen": seen}).status_code == 302
    after = play.revisions.get(published_at=None).value()
    assert len(after.needs) == len(before.needs) + 1
    assert after.phases == before.phases
    assert after.looks == before.looks
    assert after.counters == before.counters


def test_an_unchanged_text_makes_no_draft(keeper: Client, cast: Cast) -> None:
    play = cast.entry.play
    text = shorthand(play.published().value())
    seen = play.published().content_hash
    keeper.post(reverse("rewrite-play", args=[play.key]), {"text": text, "seen": seen})
    assert not play.revisions.filter(published_at=None).exists()


def test_who_comes_second_is_told_and_may_go_on_on_purpose(keeper: Client, cast: Cast) -> None:
    play = cast.entry.play
    address = reverse("rewrite-play", args=[play.key])
    text = shorthand(play.published().value())
    seen = play.published().content_hash
    one, other = text.replace("use: ", "use: One. "), text.replace("use: ", "use: Other. ")
    assert keeper.post(address, {"text": one, "seen": seen}).status_code == 302
    response = keeper.post(address, {"text": other, "seen": seen})
    assert response.status_code == 422
    shown = response.content.decode()
    assert "Somebody changed this play meanwhile" in shown
    assert "Other. " in shown
    draft = play.revisions.get(published_at=None)
    assert draft.value().use.startswith("One. ")
    keeper.post(address, {"text": other, "seen": draft.content_hash})
    draft.refresh_from_db()
    assert draft.value().use.startswith("Other. ")


def test_the_picture_follows_the_text(keeper: Client) -> None:
    address = reverse("written-play")
    drawn = keeper.post(address, {"text": NEW}).content.decode()
    assert drawn.count("<svg") >= 2  # the phase and the count strip
    assert "Every line is understood." in drawn
    bare = keeper.post(address, {"text": "play: x"}).content.decode()
    assert "The picture appears once five people have a place." in bare
    assert not Play.objects.filter(name="Corner Stone").exists()


@pytest.mark.parametrize("formation", PLACES)
@pytest.mark.parametrize("edge", ["sideline", "baseline", "none"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_every_beginning_can_be_read(formation: Formation, edge: str, side: str) -> None:
    begin = BeginForm({"formation": formation.value, "edge": edge, "side": side})
    reading = read(begin.begun())
    assert not any(fault.unread for fault in reading.faults)
    assert reading.play.formation is formation
    assert len({start.role for start in reading.play.starts}) == 5
    assert len({start.at for start in reading.play.starts}) == 5


def test_who_reads_spanish_gets_a_play_in_spanish_words_and_it_is_the_same(
    keeper: Client, cast: Cast
) -> None:
    play = cast.play
    address = reverse("rewrite-play", args=[play.key])
    keeper.cookies["django_language"] = "es"
    form = keeper.get(address).context["form"]
    text = str(form["text"].value())
    assert text.startswith("jugada: ")
    assert "fase: " in text
    keeper.post(address, {"text": text, "seen": form["seen"].value()})
    assert play.revisions.count() == 1
    new = str(keeper.get(reverse("write-play")).context["form"]["text"].value())
    assert new.startswith("jugada: ")
