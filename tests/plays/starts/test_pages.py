"""One page to begin a play: each way leads somewhere, a fault loses nothing."""

from __future__ import annotations

import io
import json
import re
from typing import TYPE_CHECKING, Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from PIL import Image

from coachbook.demo.files import demo_play
from plays.core.document.file import to_json
from plays.core.moves.moves import mirror
from plays.core.play import Play as PlayValue
from plays.models import Formation, Play, Revision, TracedPhoto
from tests.cast import Cast

if TYPE_CHECKING:
    from django.test.client import _MonkeyPatchedWSGIResponse

pytestmark = pytest.mark.django_db
PATH = reverse("new-play")


@pytest.fixture
def keeper(client: Client, cast: Cast) -> Client:
    client.force_login(cast.keeper)
    return client


def sent(client: Client, way: str, **more: Any) -> _MonkeyPatchedWSGIResponse:
    said = {"name": "Box Hill", "formation": "box", "edge": "sideline", "side": "right"}
    return client.post(PATH, {"way": way, **said, **more})


def begun(key: str = "box-hill") -> PlayValue:
    return Revision.objects.get(play__key=key).value()


def picture(size: tuple[int, int] = (60, 40)) -> bytes:
    out = io.BytesIO()
    Image.new("L", size).save(out, "PNG")
    return out.getvalue()


def test_each_formation_is_shown_as_a_picture_that_follows_the_throw_in(keeper: Client) -> None:
    pages = [
        keeper.get(PATH, {"edge": edge, "side": side}).content.decode()
        for edge, side in (("sideline", "right"), ("sideline", "left"), ("baseline", "right"))
    ]
    for shown in pages:
        values = re.findall(r'name="formation" value="(\w+)"', shown)
        assert sorted(values) == sorted(Formation.values)
    pictures = {re.search(r'id="formations".*?</fieldset>', shown, re.DOTALL)[0] for shown in pages}  # type: ignore[index]
    assert len(pictures) == 3


@pytest.mark.parametrize("formation", Formation.values)
def test_the_five_stand_in_the_formation_that_was_chosen(keeper: Client, formation: str) -> None:
    answer = sent(keeper, "court", formation=formation)
    assert answer.headers["Location"] == reverse("draw-play", args=["box-hill"])
    value = begun()
    assert value.formation.value == formation
    assert len({start.at for start in value.starts}) == 5


def test_a_copy_has_a_name_of_its_own_and_a_mirror_is_the_other_side(
    keeper: Client, cast: Cast
) -> None:
    source = cast.play.published().value()
    more = {"play": cast.play.key, "name": "Gangway again"}
    assert sent(keeper, "copy", **more).status_code == 302
    assert begun("gangway-again").phases == source.phases
    more = {"play": cast.play.key, "name": "Other side", "side_up": "mirrored"}
    assert sent(keeper, "copy", **more).status_code == 302
    assert begun("other-side").phases == mirror(source).phases


def test_words_begin_with_the_name_and_the_formation(keeper: Client) -> None:
    there = sent(keeper, "words", name="Höhe ä", formation="stack").headers["Location"]
    assert not Play.objects.filter(name="Höhe ä").exists()
    text = str(keeper.get(there).context["form"]["text"].value())
    assert "play: Höhe ä" in text
    assert "formation: stack" in text
    nowhere = sent(keeper, "words", formation="other").headers["Location"]
    assert keeper.get(nowhere).context["written"].unread


def test_a_photo_is_kept_before_anybody_is_placed(keeper: Client) -> None:
    photo = SimpleUploadedFile("board.png", picture(), "image/png")
    answer = sent(keeper, "photo", photo=photo)
    assert answer.headers["Location"] == reverse("draw-photo", args=["box-hill"])
    assert TracedPhoto.objects.get().play.key == "box-hill"
    assert begun().formation.value == "other"
    assert not list(begun().actions())


def test_a_file_shows_what_is_in_it_and_saves_nothing(keeper: Client) -> None:
    play = demo_play("backwater")
    data = json.dumps(to_json(play)).encode()
    file = SimpleUploadedFile("backwater.json", data, "application/json")
    answer = sent(keeper, "file", file=file, name="")
    assert [each.name for each in answer.context["preview"].items] == [play.name]
    assert not Play.objects.filter(key="backwater").exists()


@pytest.mark.parametrize(
    ("way", "more", "field"),
    [
        ("court", {"name": ""}, "name"),
        ("court", {"name": "x" * 200}, "name"),
        ("court", {"formation": "circle"}, "formation"),
        ("copy", {}, "play"),
        ("copy", {"play": "nothing"}, "play"),
        ("copy", {"play": "gangway", "name": "Gangway"}, "name"),
        ("photo", {}, "photo"),
        ("photo", {"photo": SimpleUploadedFile("notes.txt", b"none")}, "photo"),
        ("photo", {"photo": SimpleUploadedFile("large.png", picture((8000, 5000)))}, "photo"),
        ("file", {}, "file"),
        ("elsewhere", {}, "way"),
    ],
)
def test_a_fault_is_told_at_its_field_and_nothing_is_lost(
    keeper: Client, way: str, more: dict[str, Any], field: str
) -> None:
    before = Play.objects.count()
    answer = sent(keeper, way, **more)
    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [field]
    assert Play.objects.count() == before
    shown = answer.content.decode()
    assert 'class="error"' in shown
    assert more.get("name", "Box Hill") in shown
    chosen = re.search(r'name="formation" value="box"[^>]*checked', shown)
    assert bool(chosen) is ("formation" not in more)


def test_a_play_leads_to_its_copy(keeper: Client, cast: Cast) -> None:
    link = f"{PATH}?way=copy&play={cast.play.key}"
    page = keeper.get(reverse("play", args=[cast.play.key])).content.decode()
    assert link.replace("&", "&amp;") in page
    chosen = keeper.get(link).content.decode()
    assert re.search(rf'value="{cast.play.key}"\s+checked', chosen)


def test_situation_and_age_are_said_at_the_start(keeper: Client) -> None:
    assert sent(keeper, "court").status_code == 302
    assert begun().situation.value == "sideline"
    more = {"name": "Late", "edge": "none", "situation": "last_shot", "level": "U16"}
    assert sent(keeper, "court", **more).status_code == 302
    late = begun("late")
    assert (late.situation.value, late.level.value) == ("last_shot", "U16")
    there = sent(keeper, "words", situation="press_break", level="U12").headers["Location"]
    text = str(keeper.get(there).context["form"]["text"].value())
    assert "situation: press break" in text
    assert "level: U12" in text
