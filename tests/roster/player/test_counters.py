"""What the defence changes, on a phone: pictures in pairs, the looks beneath with their numbers.

The truth is the demo club's own play documents, read here as plain JSON.
"""

from __future__ import annotations

import html
import json
import re
from pathlib import Path

import pytest
from django.test import Client

import coachbook.demo
from tests.cast import Cast
from tests.packages import carried
from tests.phone import opened_by

pytestmark = pytest.mark.django_db

PLAYS = Path(coachbook.demo.__file__).parent / "plays"
PLAIN_LOOK = re.compile(r"(?:Look|You are look) (\d)")


def sections(client: Client, cast: Cast, play: str, role: int) -> list[str]:
    """The counters on the page of a role, in the order of the document."""
    entry = carried(cast, play, role)
    page = client.get(f"{opened_by(client, cast.players[4])}{entry}/{role}/").content.decode()
    return re.findall(r'<section class="counter">(.*?)</section>', page, re.DOTALL)


def counters(play: str) -> list[dict[str, list[dict[str, str]]]]:
    found: list[dict[str, list[dict[str, str]]]] = json.loads((PLAYS / f"{play}.json").read_text())[
        "counters"
    ]
    return found


@pytest.mark.parametrize("play", ["oar-rack", "tow-rope", "weathervane", "tidegate", "sluice"])
def test_the_throwers_looks_stand_beneath_the_pictures_in_order(
    client: Client, cast: Cast, play: str
) -> None:
    """Every look that the thrower throws in a counter is told once, or said to stay."""
    told = sections(client, cast, play, 1)
    assert len(told) == len(counters(play)) > 0
    for section, counter in zip(told, counters(play), strict=True):
        own = [n for n, look in enumerate(counter["looks"], 1) if look["passer"] == "1"]
        words, *pairs = section.split('<div class="pair">')
        assert "Look" not in re.sub(r"<[^>]+>", " ", words)
        assert all(pair.count("<svg") == 2 for pair in pairs)
        beneath = " ".join(re.sub(r"<svg.*?</svg>", "", pair, flags=re.DOTALL) for pair in pairs)
        if "The looks are now:" not in beneath:
            continue  # as always: they stand at the plain pictures
        stays = re.search(r"Looks? ([\d, and]+) stays? as", beneath)
        kept = [int(n) for n in re.findall(r"\d", stays[1])] if stays else []
        new = [
            int(PLAIN_LOOK.match(line)[1])  # type: ignore[index]
            for line in re.findall(r"<li>(.*?)</li>", beneath)
            if PLAIN_LOOK.match(line)
        ]
        assert sorted(kept + new) >= own
        assert len(set(kept + new)) == len(kept + new)


def test_a_look_in_a_counters_picture_stands_beneath_that_picture(
    client: Client, cast: Cast
) -> None:
    """Oar Rack against a trap: the first three looks stay, the fourth is new in picture 3."""
    trap = next(s for s in sections(client, cast, "oar-rack", 1) if "When they trap" in s)
    (pair,) = trap.split('<div class="pair">')[1:]
    plain, changed = re.findall(r"<figure>(.*?)</figure>", pair, re.DOTALL)
    assert "Look 4" not in plain
    assert "Look 4" in changed
    after = " ".join(pair.rsplit("</figure>", 1)[1].split())
    assert "Looks 1, 2 and 3 stay as they are." in after
    assert "<li>You are look 4 of 5." in after


def test_the_coachs_cue_heads_a_changed_step(client: Client, cast: Cast) -> None:
    taught = {
        line
        for counter in counters("oar-rack")
        for action in [*counter.get("replace", []), *counter.get("add", [])]
        if action["role"] == "1"
        for line in action.get("teach", [])
    }
    page = html.unescape(" ".join(sections(client, cast, "oar-rack", 1)))
    assert taught
    assert all(f'<p class="cue">{line}</p>' in page for line in taught)


@pytest.mark.parametrize("play", ["oar-rack", "weathervane", "tidegate", "paper-lantern"])
def test_small_pictures_are_as_legible_and_nobody_stands_over_their_edge(
    client: Client, cast: Cast, play: str
) -> None:
    """Two stand beside each other on 360 px: each is 150 px wide (measured in Chromium)."""
    for section in sections(client, cast, play, 1):
        for svg in re.findall(r"<svg.*?</svg>", section, re.DOTALL):
            wide = float(re.search(r'viewBox="0 0 ([\d.]+)', svg)[1])  # type: ignore[index]
            letters = [float(size) for size in re.findall(r'font-size="([\d.]+)"', svg)]
            assert min(letters) * 150 / wide >= 12
            for x, radius in re.findall(
                r'<circle[^>]* cx="([\d.-]+)" cy="[\d.-]+" r="([\d.]+)"', svg
            ):
                assert float(radius) <= float(x) <= wide - float(radius)
