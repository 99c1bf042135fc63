"""A browser keeps no private page for after signing out, and a step back still works."""

from __future__ import annotations

import re

from playwright.sync_api import expect

from tests.browser.conftest import Opener
from tests.cast import Cast


def test_a_step_back_shows_the_page_and_leaves_no_copy(opened: Opener, cast: Cast) -> None:
    page = opened("/library/", cast.head)
    page.get_by_label("Words").fill("nothing like it")
    page.wait_for_url(re.compile("nothing"))
    expect(page.locator(".play-card")).to_have_count(0)
    page.go_back()
    expect(page.locator(".play-card")).to_have_count(1)
    kept = page.evaluate("JSON.stringify([{...sessionStorage}, {...localStorage}])")
    assert "Gangway" not in kept


def test_after_signing_out_a_step_back_shows_nothing_private(opened: Opener, cast: Cast) -> None:
    page = opened(f"/teams/{cast.team.pk}/roster/", cast.head)
    expect(page.get_by_text("Noor").locator("visible=true").first).to_be_visible()
    page.locator(".menu > summary").click()
    page.get_by_role("button", name="Sign out").click()
    expect(page).to_have_url(re.compile("/sign-in/"))
    page.go_back()
    expect(page).to_have_url(re.compile("/sign-in/"))
    expect(page.get_by_text("Noor")).to_have_count(0)
