"""The bar of somebody with three teams: which team it is, and one tap to another, at each width."""

from __future__ import annotations

import re

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from coachbook.demo import factories
from tests.browser.conftest import PHONE, WIDE, Opener
from tests.cast import Cast

SMALL = {"width": 320, "height": 640}


@pytest.mark.parametrize("size", [SMALL, PHONE, WIDE], ids=["320", "360", "1280"])
def test_the_other_teams_open_from_the_bar(
    size: dict[str, int], opened: Opener, cast: Cast
) -> None:
    """From a team's page and from the library: the list lies within the screen, and leads there."""
    long = factories.TeamFactory.create(name="Lindwater Kestrels Girls", season="2027/28")
    for team in (long, factories.TeamFactory.create(name="Herons", season="2025/26")):
        factories.StaffFactory.create(team=team, user=cast.head)
    page = opened(reverse("roster", args=[cast.team.pk]), cast.head, size)
    for path in (reverse("roster", args=[cast.team.pk]), reverse("library")):
        page.goto(path)
        summary = page.locator("header .team-menu > summary")
        expect(summary).to_contain_text(f"Herons {cast.team.season}" if "team" in path else "Teams")
        summary.click()
        links = page.locator("header .team-menu nav a")
        expect(links).to_have_count(3)
        for box in (links.nth(n).bounding_box() for n in range(3)):
            assert box is not None
            assert box["x"] >= 0
            assert box["x"] + box["width"] <= size["width"]
            assert box["height"] >= 44  # WCAG 2.2, 2.5.5: a target of 44 by 44
        assert page.evaluate("document.documentElement.scrollWidth") == size["width"]
        page.keyboard.press("Escape")
        expect(links.first).to_be_hidden()
        expect(summary).to_be_focused()
    page.keyboard.press("Enter")
    page.get_by_role("link", name="Lindwater Kestrels Girls").click()
    expect(page).to_have_url(re.compile(reverse("team", args=[long.pk]) + "$"))
    expect(page.locator("header .team-menu > summary")).to_contain_text(str(long))
