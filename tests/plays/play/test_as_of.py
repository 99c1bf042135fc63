"""States of a play are told apart by day and note, on every page where somebody reads them."""

from __future__ import annotations

import re
from datetime import datetime
from zoneinfo import ZoneInfo

import pytest
from django.conf import settings
from django.urls import reverse
from django.utils import translation

from plays.library.changes import save_draft
from plays.models import Revision
from tests.cast import Cast
from tests.phone import moved_start

NUMBERED = re.compile(r"\b(?:revision|revisión) \d", re.IGNORECASE)


def published_on(number: int, day: datetime, note: str = "") -> None:
    Revision.objects.filter(number=number).update(published_at=day, note=note)


@pytest.fixture
def twice(cast: Cast) -> Cast:
    """Gangway as of 3 October, and as of 12 October with a note; the team carries the second."""
    moved_start(cast)
    zone = ZoneInfo(settings.TIME_ZONE)
    published_on(1, datetime(2026, 10, 3, 18, 0, tzinfo=zone))
    published_on(2, datetime(2026, 10, 12, 20, 5, tzinfo=zone), "Screen moved up")
    return cast


def shown(cast: Cast, name: str, *args: object) -> str:
    text = cast.client(cast.runner).get(reverse(name, args=args)).content.decode()
    return " ".join(re.sub(r"<[^>]+>", " ", text.partition("<main")[2]).split())


def test_the_play_says_the_day_of_what_is_shown(twice: Cast) -> None:
    assert "as of 12 October 2026" in shown(twice, "play", "gangway")
    old = shown(twice, "revision", "gangway", 1)
    assert "This is the play as of 3 October 2026, 18:00." in old
    assert "The current one is of 12 October 2026, 20:05: Screen moved up." in old


def test_two_states_are_compared_by_day_and_note(twice: Cast) -> None:
    said = shown(twice, "revisions", "gangway")
    assert "From 3 October 2026 to 12 October 2026" in said
    assert "12 October 2026, 20:05: Screen moved up" in said


def test_in_spanish_too(twice: Cast) -> None:
    with translation.override("es"):
        assert Revision.objects.get(number=2).day == "12 de octubre de 2026"


@pytest.mark.parametrize("name", ["play", "check", "tune", "edit-texts"])
def test_no_page_of_a_play_says_a_number(twice: Cast, name: str) -> None:
    play = twice.play
    save_draft(play, play.revisions.first().value(), twice.keeper)  # type: ignore[union-attr]
    assert not NUMBERED.search(shown(twice, name, "gangway"))


def test_nor_does_the_package(twice: Cast) -> None:
    said = shown(twice, "package", twice.team.pk)
    assert "as of 12 October 2026" in said
    assert not NUMBERED.search(said)
