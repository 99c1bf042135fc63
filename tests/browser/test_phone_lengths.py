"""How long the pages are at 360 and 320 px: a team of 14 with ten plays, a library of 27.

The limits are our own choice: lists are one row a person or a play, and the rest is behind a fold.
"""

from __future__ import annotations

import pytest
from django.urls import reverse
from playwright.sync_api import ViewportSize, expect

from coachbook.demo import factories
from coachbook.demo.files import demo_plays
from plays.models import Play
from tests.browser.conftest import PHONE, Opener
from tests.browser.test_pages import PAGES
from tests.cast import Cast
from tests.coachbook.test_access import address

SQUAD = 14
PLAYS = 10
SIZES: list[ViewportSize] = [{"width": 360, "height": 740}, {"width": 320, "height": 640}]
LONGEST = {  # pixels, on both
    "readiness": 1750,  # no play is ready: a row for each of them besides
    "attendance": 1750,  # a name over three answers as large as a thumb
    "link-cards": 1600,
    "team-minutes": 1750,  # what is kept apart besides
    "roster": 1600,
    "team-ratings": 1600,
    "sheets": 1600,
    "team-pace": 1800,
    "coverage": 1600,
    "the-five": 1600,
    "call-sheet": 1600,
    "cast": 1600,
    "team": 1600,
    "library": 2640,
    "checks": 2000,  # a row for each of the 27
    "which-plays": 3300,  # a row for each that is picked, three of the rest, and a fold
    "feeds": 1600,
    "practice": 1800,
    "practices": 1600,
}


@pytest.mark.parametrize("name", sorted(LONGEST))
def test_a_page_is_no_longer_than_it_has_to_be(name: str, opened: Opener, cast: Cast) -> None:
    grown(cast)
    if name in {"library", "checks", "which-plays"}:
        there = set(Play.objects.values_list("key", flat=True))
        for value in demo_plays():
            if value.key not in there:
                factories.published(value)
    query = "".join(f"on={player.pk}&" for player in cast.players[:5]) if name == "the-five" else ""
    of: dict[str, list[int]] = {"library": [], "checks": [], "call-sheet": [cast.game.pk]}
    of |= {n: [cast.practice.pk] for n in ("attendance", "practice")}
    page = opened(f"{reverse(name, args=of.get(name, [cast.team.pk]))}?{query}", cast.head, PHONE)
    for size in SIZES:
        page.set_viewport_size(size)
        assert page.evaluate("document.documentElement.scrollHeight") <= LONGEST[name], size
        assert page.evaluate("document.documentElement.scrollWidth") == size["width"]


ALL = 2000
"""Pixels at 360 px for a page that is not named below: three screens of a phone."""
LONGER: dict[str, tuple[int, str]] = {
    "play": (3650, "diagrams, count, looks and teams; the rest is folded"),
    "revision": (3650, "the same of an older state"),
    "shared": (2500, "what a visitor comes for: every diagram"),
    "shared-play": (2500, "the same out of a shared library"),
    "check": (4700, "the stage, what is found, the count, and a row a look"),
    "check-revision": (4700, "the same of an older state"),
    "draw-play": (2300, "the court, and beside it what the check says as it is drawn"),
    "edit-texts": (2300, "the play's own words; phases, looks and calls are folded"),
    "translate-texts": (5300, "a field for each text that is not written yet"),
    "new-play": (2250, "a picture for each way to begin"),
    "starter-plays": (2750, "a row for each play that may be taken"),
    "sheet": (4500, "a player's own part, read downwards as on paper"),
    "player-cast": (2500, "a row for each role, and one for each of the squad"),
}
"""What may be longer, in pixels, and why."""
CHUNKS = 4


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_no_page_is_scrolled_for_long(chunk: int, opened: Opener, cast: Cast) -> None:
    grown(cast)
    page = opened(reverse("help"), cast.runner, PHONE)
    found = {}
    for name in PAGES[chunk::CHUNKS]:
        if not name.startswith("my-"):
            page.goto(address(name, cast))
            expect(page.locator(".htmx-request")).to_have_count(0)
            height = page.evaluate("document.documentElement.scrollHeight")
            if height > LONGER.get(name, (ALL, ""))[0]:
                found[name] = height
    assert found == {}


def test_what_is_folded_on_a_phone_opens_by_keyboard_and_stands_on_paper_and_wide(
    opened: Opener, cast: Cast
) -> None:
    """The second in a role: behind the row on a phone, in sight on paper and on a wide screen."""
    second = cast.players[6]
    factories.CastingFactory.create(entry=cast.entry, role="1", depth=2, player=second)
    page = opened(reverse("cast", args=[cast.team.pk]), cast.head, PHONE)
    name = page.locator("#grid td .who", has_text=second.name).first
    expect(name).to_be_hidden()
    page.locator(".row-fold > summary").first.focus()
    page.keyboard.press("Enter")
    expect(name).to_be_visible()
    page.keyboard.press("Enter")
    expect(name).to_be_hidden()
    page.emulate_media(media="print")
    expect(name).to_be_visible()
    page.emulate_media(media="screen")
    page.set_viewport_size({"width": 1280, "height": 800})
    expect(name).to_be_visible()
    expect(page.locator(".row-fold > summary").first).to_be_hidden()


def grown(cast: Cast) -> None:
    """Fourteen in the squad, and ten plays with two in each role."""
    for number in range(20, 20 + SQUAD - len(cast.players)):
        factories.PlayerFactory.create(team=cast.team, number=str(number))
    squad = list(cast.team.players.all())
    others = [play for play in demo_plays() if play.key != cast.play.key][: PLAYS - 1]
    for n, value in enumerate(others):
        entry = factories.PackagePlayFactory.create(
            team=cast.team, play=factories.published(value), call=value.name
        )
        for role in range(1, 6):
            for depth in (1, 2):
                who = squad[(n + role + 5 * depth) % SQUAD] if depth == 2 else squad[role - 1]
                factories.CastingFactory.create(
                    entry=entry, role=str(role), depth=depth, player=who
                )
