"""A play that goes on in another way after another look: every page shows the way of the look."""

from __future__ import annotations

import re
from html import unescape

import pytest
from django.test import Client
from django.urls import reverse

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.models import Play
from tests.cast import Cast

INSIDE = (0.6, 2.6)  # from the middle of the court: where the 5 ends after look 1
BLOCK = (2.7, 3.1)  # and after look 2, as the file says
"""Metres, across and up from the baseline, in the demo file of Tidegate."""


@pytest.fixture
def play(db: None) -> Play:
    return factories.published(demo_play("tidegate"))


@pytest.fixture
def client(cast: Cast) -> Client:
    return cast.client(cast.assistant)


def end_of_five(client: Client, play: Play, **asked: str) -> tuple[float, float]:
    answer = client.get(reverse("check-motion", args=[play.key, 1]), asked).json()
    x, y = answer["roles"]["5"][-2:]
    return round(abs(x), 1), round(y, 1)


def test_the_play_in_motion_runs_the_rotation_of_the_look_that_is_thrown(
    client: Client, play: Play
) -> None:
    assert end_of_five(client, play) == INSIDE
    assert end_of_five(client, play, look="gate") == INSIDE
    assert end_of_five(client, play, look="wing") == INSIDE
    assert end_of_five(client, play, look="corner") == BLOCK
    assert end_of_five(client, play, look="block") == BLOCK
    assert end_of_five(client, play, counter="after-look-corner") == BLOCK


def test_the_check_offers_each_way_with_its_own_phases_and_strip(
    client: Client, play: Play
) -> None:
    whole = unescape(client.get(reverse("check", args=[play.key])).content.decode())
    assert "after look 2, 1 to 3" in whole
    other = client.get(reverse("check", args=[play.key]), {"counter": "after-look-corner"})
    said = unescape(other.content.decode())
    captions = [re.sub(r"\s+", " ", c) for c in re.findall(r"<figcaption>\s*([^<]+)", said)]
    assert [c.strip() for c in captions] == [
        "Open the gate", "Through and shut", "Shot, or look at the block",
    ]  # fmt: skip
    assert 'data-action="block"' in said
    assert 'data-action="wing"' not in said


def test_the_pages_of_the_play_mark_each_rotation_with_its_look_and_number_it_on(
    client: Client, play: Play
) -> None:
    said = unescape(client.get(reverse("play", args=[play.key])).content.decode())
    assert said.count("after look 1</span>") == said.count("after look 2</span>") == 1
    assert said.count("Do this only after look 2, when the ball is in.") == 3  # the 1, 4 and 5


def test_it_is_drawn_by_a_tap_for_which_look_a_phase_is(cast: Cast, play: Play) -> None:
    page = cast.client(cast.keeper).get(reverse("draw-play", args=[play.key]), {"phase": 4})
    said = unescape(page.content.decode())
    assert '{"do": "after", "phase": "shot-or-look-at-the-block", "looks": []}' in said
