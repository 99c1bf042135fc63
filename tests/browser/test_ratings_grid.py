"""The grid of ratings by keyboard alone, as a spreadsheet's hand tries it."""

from __future__ import annotations

import re

from django.urls import reverse
from playwright.sync_api import expect

from roster.models import Player, Team
from tests.browser.conftest import Opener


def test_enter_in_a_cell_saves_what_was_typed(opened: Opener, cast: object) -> None:
    """Practice of the web (from memory, HTML's implicit submission): Enter in a field sends."""
    team = Team.objects.get(name="Herons")
    page = opened(reverse("team-ratings", args=[team.pk]), team.staff.get(username="head"))
    cell = page.locator("[data-grid-table] tbody tr").nth(1).locator("input").first
    who, quality = str(cell.get_attribute("name")).split("-")
    cell.fill("")
    cell.press_sequentially("2")  # the digit leads on to the player below
    below = page.locator("[data-grid-table] tbody tr").nth(2).locator("input").first
    expect(below).to_be_focused()
    below.press("Enter")
    expect(page).not_to_have_url(re.compile("/ratings/$"))
    expect(page.get_by_role("status").first).to_be_visible()
    assert Player.objects.values_list(quality, flat=True).get(pk=int(who)) == 2
