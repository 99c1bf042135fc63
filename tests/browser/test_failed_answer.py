"""An answer that is a failure: told with its reference, until one comes that is none."""

from __future__ import annotations

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from tests.browser.conftest import Opener
from tests.cast import Cast

WORDS = "#id_text"
NOTE = "[data-failure]"
FOUND = "plays.library.views.found_plays"


def search(page: Page, words: str) -> None:
    page.locator(WORDS).fill(words)


def test_a_failure_is_told_once_and_forgotten_with_the_next_answer(
    opened: Opener, cast: Cast, monkeypatch: pytest.MonkeyPatch, faults: list[str]
) -> None:
    page = opened(reverse("library"), cast.keeper)
    expect(page.locator(NOTE)).to_have_count(0)

    def broken(*_facts: object) -> None:
        raise RuntimeError("no plays today")

    with monkeypatch.context() as patch:
        patch.setattr(FOUND, broken)
        with page.expect_response(lambda answer: answer.status == 500) as failed:
            search(page, "gang")
        note = page.locator(NOTE)
        expect(note).to_have_attribute("role", "alert")
        reference = note.locator("strong").inner_text()
        assert reference in failed.value.text()
        expect(page.locator(WORDS)).to_have_value("gang")  # what was typed stays
        with page.expect_response(lambda answer: answer.status == 500):
            search(page, "gangw")
        expect(note.locator("strong")).not_to_have_text(reference)  # the second one's, alone
        expect(note).to_have_count(1)
    search(page, "gangway")
    expect(note).to_have_count(0)
    expect(page.locator("#found")).to_contain_text(cast.play.name)
    faults[:] = [fault for fault in faults if "500" not in fault]  # which the browser tells, too
