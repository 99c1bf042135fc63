"""The five at the bench of a hall without a signal."""

from __future__ import annotations

import re

from playwright.sync_api import expect

from tests.browser.conftest import Opener
from tests.cast import Cast


def test_without_a_signal_the_page_says_that_it_is_of_the_five_before(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    page = opened(f"/teams/{cast.team.pk}/five/", cast.assistant)
    note = page.get_by_text("No signal: what stands below is of the five before, as of")
    expect(note).to_be_hidden()
    page.context.set_offline(True)
    page.locator(f"#on-{cast.players[4].pk}").uncheck(force=True)
    expect(note).to_be_visible()
    expect(note.locator("time")).to_have_text(re.compile(r"^\d\d:\d\d$"))
    page.context.set_offline(False)
    page.locator(f"#on-{cast.players[5].pk}").check(force=True)
    expect(page.get_by_role("heading", name="Gangway Runa")).to_be_visible()
    expect(note).to_be_hidden()
    faults.clear()  # what the browser and htmx say of a request without a signal
