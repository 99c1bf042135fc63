"""The courtside log by the keyboard: after every tap the focus is where the next one is.

WCAG 2.2, 2.4.3 Focus Order (https://www.w3.org/TR/WCAG22/#focus-order).
"""

from __future__ import annotations

import re

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, Opener
from tests.cast import Cast


@pytest.fixture
def log(opened: Opener, cast: Cast) -> Page:
    page = opened(reverse("log", args=[cast.practice.pk]), cast.head, PHONE)
    page.wait_for_selector(".log-mode")
    return page


def test_a_choice_keeps_the_focus(log: Page) -> None:
    for row in ("modes", "unit"):
        choice = log.locator(f"[data-log={row}] button[aria-pressed=false]").first
        name = choice.inner_text()
        choice.press("Enter")
        again = log.locator(f"[data-log={row}]").get_by_role("button", name=name, exact=True)
        expect(again).to_have_attribute("aria-pressed", "true")
        expect(again).to_be_focused()


def test_a_swap_comes_back_to_its_role(log: Page) -> None:
    role = log.locator("[data-log=five] button").nth(1)
    before = role.inner_text()
    role.press("Enter")
    log.locator("[data-log=people] button[aria-pressed=false]:enabled").last.press("Enter")
    expect(role).not_to_have_text(re.compile(before))
    expect(role).to_be_focused()


def test_an_error_goes_to_who_erred_and_back(log: Page) -> None:
    log.locator("[data-log=error]").press("Enter")
    erred = log.locator("[data-log=erred] button")
    expect(erred.first).to_be_focused()
    erred.nth(2).press("Enter")
    expect(erred.nth(2)).to_have_attribute("aria-pressed", "true")
    expect(erred.nth(2)).to_be_focused()
    log.locator("[data-log=slips] button").first.press("Enter")
    expect(log.locator("[data-log=error]")).to_be_focused()
    log.locator("[data-log=clean]").press("Enter")
    expect(log.locator("[data-log=total]")).to_have_text("2")
    expect(log.locator("[data-log=clean]")).to_be_focused()
