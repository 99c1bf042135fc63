"""Plays shared by link: who may make one, what it opens, and when it opens nothing any more."""

from __future__ import annotations

import json
import re
import uuid
from datetime import timedelta
from urllib.parse import urlparse

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.document.file import read_own
from plays.core.moves.origins import steps
from plays.library.changes import add_draft_play, put_away
from plays.models import Play, SharedPlay
from plays.sharing import links
from shared.models import Change
from tests.cast import Cast


def made(cast: Cast, play: Play | None) -> str:
    """A link made through the page, as a path."""
    address = reverse("share-play", args=[play.key]) if play else reverse("share-library")
    keeper = cast.client(cast.keeper)
    assert keeper.post(address, {"once": str(uuid.uuid4())}).status_code == 302
    said = keeper.get(address).content.decode()
    return str(urlparse(re.findall(r'data-share="([^"]+)"', said)[0]).path)


@pytest.fixture
def other(cast: Cast) -> Play:
    return factories.published(demo_play("paper-lantern"), cast.keeper)


def test_anybody_reads_the_play_and_no_name_of_a_player(cast: Cast, other: Play) -> None:
    path = made(cast, cast.play)
    answer = Client().get(path)
    said = answer.content.decode()
    assert answer.status_code == 200
    assert "no-store" in answer.headers["Cache-Control"]
    assert "noindex" in answer.headers["X-Robots-Tag"]
    assert said.count("<svg") >= len(demo_play("gangway").phases)
    assert not [player.name for player in cast.players if player.name in said]
    assert cast.team.name not in said
    assert Client().get(f"{path}{other.key}/").status_code == 404  # this link is to the one play


def test_a_copy_is_a_play_that_says_where_it_is_from(cast: Cast) -> None:
    path = made(cast, cast.play)
    answer = Client().get(f"{path}{cast.play.key}/file/")
    copy = read_own(json.loads(answer.content))
    assert copy.name == cast.play.name
    assert any(str(cast.play.published()) in str(step) for step in steps(copy))
    assert copy.origin is not None
    assert copy.phases == demo_play("gangway").phases


def test_a_link_to_the_library_opens_what_is_on_the_shelf_only(cast: Cast, other: Play) -> None:
    path = made(cast, None)
    said = Client().get(path).content.decode()
    assert cast.play.name in said
    assert other.name in said
    assert Client().get(f"{path}{other.key}/").status_code == 200
    put_away(other, cast.keeper)
    assert other.name not in Client().get(path).content.decode()
    for rest in (f"{other.key}/", f"{other.key}/file/", "nothing/"):
        assert Client().get(f"{path}{rest}").status_code == 404
    new = add_draft_play(demo_play("duckboard"), cast.keeper)
    assert Client().get(f"{path}{new.play.key}/").status_code == 404  # a draft


def test_a_withdrawn_a_late_and_a_forged_link_open_nothing(cast: Cast) -> None:
    path = made(cast, cast.play)
    link = SharedPlay.objects.get()
    assert Client().get(f"{path[:-3]}xx/").status_code == 404
    assert Client().get(reverse("shared", args=[link.nonce])).status_code == 404
    SharedPlay.objects.update(opens_until=timezone.now() - timedelta(seconds=1))
    assert Client().get(path).status_code == 404
    SharedPlay.objects.update(opens_until=timezone.now() + timedelta(days=1))
    assert Client().get(path).status_code == 200
    keeper, address = cast.client(cast.keeper), reverse("share-play", args=[cast.play.key])
    for _tap in range(2):
        keeper.post(address, {"withdraw": str(link.pk)})
    assert Client().get(path).status_code == 404
    assert Client().get(f"{path}{cast.play.key}/file/").status_code == 404
    assert Change.objects.filter(verb="withdrew shared").count() == 1
    assert not links.open_links(cast.play)


def test_a_link_is_not_withdrawn_through_another_play(cast: Cast, other: Play) -> None:
    path = made(cast, cast.play)
    pk = SharedPlay.objects.get().pk
    keeper = cast.client(cast.keeper)
    keeper.post(reverse("share-play", args=[other.key]), {"withdraw": str(pk)})
    assert Client().get(path).status_code == 200


def test_pressing_twice_makes_one_link(cast: Cast) -> None:
    keeper, address = cast.client(cast.keeper), reverse("share-play", args=[cast.play.key])
    once = str(uuid.uuid4())
    for _tap in range(2):
        keeper.post(address, {"once": once})
    assert SharedPlay.objects.count() == Change.objects.filter(verb="shared").count() == 1


def test_who_does_not_keep_the_library_makes_no_link(cast: Cast) -> None:
    for person in (cast.head, cast.assistant):
        answer = cast.client(person).post(reverse("share-play", args=[cast.play.key]))
        assert answer.status_code == 403
    assert not SharedPlay.objects.exists()
