"""A playbook of the library: which plays, made once in the background, opened by who asked."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest
from django.urls import reverse
from pypdf import PdfReader

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.models import Play
from roster.models import ShelfPrinting
from roster.sheets import shelf
from shared.worker import Pulse, Work, perform
from tests.cast import Cast

PAGE = "/playbook/"


@pytest.fixture(autouse=True)
def data(tmp_path: Path, settings: Any) -> Path:
    settings.DATA = tmp_path
    return tmp_path


@pytest.fixture
def plays(cast: Cast) -> list[Play]:
    return [
        cast.play,
        *(factories.published(demo_play(key), cast.keeper) for key in ("oar-rack", "last-bell")),
    ]


def ask(cast: Cast, plays: list[Play], paper: str = "a4") -> None:
    sent = {"play": [play.pk for play in plays], "paper": paper}
    assert cast.client(cast.assistant).post(PAGE, sent).status_code == 302


def test_what_is_ticked_is_made_once_and_opened_by_who_asked(
    cast: Cast, plays: list[Play], spawned: list[Work]
) -> None:
    ask(cast, plays[:2])
    ask(cast, plays[:2])  # a double tap
    row = ShelfPrinting.objects.get()
    client = cast.client(cast.assistant)
    address = reverse("playbook-file", args=[row.pk])
    assert client.get(address).headers["Location"] == PAGE  # not made yet: nothing is drawn here
    assert 'hx-trigger="every 1s"' in client.get(PAGE).content.decode()
    perform(row)
    row = row.read_again()
    assert (row.state, row.share) == ("done", 1.0)
    assert address in client.get(PAGE).content.decode()
    answer = client.get(address)
    assert answer.headers["Content-Type"] == "application/pdf"
    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(answer.content)).pages)
    assert "2 plays" in text
    assert plays[1].name in text
    assert plays[2].name not in text
    assert not any(player.call_name.name in text for player in cast.players)
    assert cast.client(cast.head).get(address).status_code == 404


def test_a_shelf_that_changed_is_told_and_no_stale_file_is_given_out(
    cast: Cast, plays: list[Play], spawned: list[Work]
) -> None:
    ask(cast, plays)
    row = ShelfPrinting.objects.get()
    perform(row)
    plays[2].put_away = True
    plays[2].save()
    client = cast.client(cast.assistant)
    page = client.get(PAGE).content.decode()
    assert "the shelf has changed since this was drawn" in page
    assert client.get(reverse("playbook-file", args=[row.pk])).status_code == 302


def test_another_wish_ends_the_one_that_is_being_made(
    cast: Cast, plays: list[Play], spawned: list[Work]
) -> None:
    ask(cast, plays)
    old = ShelfPrinting.objects.get()
    ask(cast, plays, "letter")
    row = ShelfPrinting.objects.get()
    assert (row.pk != old.pk, row.paper) == (True, "letter")
    pulse = Pulse(old)
    pulse.stopped = True
    assert shelf.work(old, pulse) == {}


@pytest.mark.parametrize("sent", [{}, {"play": ["x", "-1", "99999999999999999999"]}])
def test_nothing_chosen_begins_nothing_that_could_end_in_a_file(
    sent: dict[str, list[str]], cast: Cast, plays: list[Play], spawned: list[Work]
) -> None:
    answer = cast.client(cast.assistant).post(PAGE, sent, follow=True)
    assert answer.status_code == 200
    for row in ShelfPrinting.objects.all():
        perform(row)
        assert row.read_again().state == "failed"
    page = cast.client(cast.assistant).get(PAGE).content.decode()
    assert "No play is chosen" in page or "No play is chosen" in answer.content.decode()


def test_a_draft_is_neither_listed_nor_printed(
    cast: Cast, plays: list[Play], spawned: list[Work]
) -> None:
    Play.objects.filter(pk=plays[1].pk).update(current=None)
    page = cast.client(cast.assistant).get(PAGE).content.decode()
    assert plays[1].name not in page
    ask(cast, plays)
    row = ShelfPrinting.objects.get()
    perform(row)
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(shelf.file_of(row))).pages)
    assert plays[1].name not in text


def test_the_librarys_filters_leave_what_is_listed(cast: Cast, plays: list[Play]) -> None:
    page = cast.client(cast.assistant).get(f"{PAGE}?situation=baseline").content.decode()
    assert plays[1].name in page
    assert plays[2].name not in page
