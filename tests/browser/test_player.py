"""A player's pages weigh little: measured in the browser, all assets included, compressed.

The limits are the product's own: 60 kB for the first page and 25 kB for each play, so that a
phone on 400 kbit/s shows the first page within about two seconds.
"""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.conftest import PHONE, Opener
from tests.cast import Cast
from tests.phone import path, press_open

FIRST, EACH = 60_000, 25_000

SUM = """() => [
  ...performance.getEntriesByType("navigation"), ...performance.getEntriesByType("resource"),
].reduce((sum, each) => sum + each.transferSize, 0)"""


def weight(page: Page) -> int:
    return int(page.evaluate(SUM))


def test_the_pages_are_light_and_ask_nobody_else(opened: Opener, cast: Cast) -> None:
    # Without the worker, which fetches for later: what a first visit weighs.
    page = press_open(opened(path(cast.players[4]), size=PHONE, service_workers="block"))
    assert 0 < weight(page) < FIRST
    page.locator(".plays a").first.click()
    page.wait_for_selector(".phase svg")
    assert 0 < weight(page) < EACH
    assert page.locator("script").count() == 0
    for more in ("Show it moving", "Questions"):
        play = page.url
        page.get_by_role("link", name=more).click()
        page.wait_for_selector("[data-ready=yes], .floor")
        assert 0 < weight(page) < EACH
        page.goto(play)


def test_the_court_to_tap_takes_the_colours_of_the_page(opened: Opener, cast: Cast) -> None:
    first = path(cast.players[4])
    page = press_open(opened(first, size=PHONE))
    page.goto(f"{first}{cast.entry.pk}/5/quiz/")
    court = page.locator(".court")
    assert page.locator(".floor").bounding_box() == court.locator("svg").bounding_box()
    lane = "each => getComputedStyle(each.querySelector('.dg-f-lane')).fill"
    light = court.evaluate(lane)
    page.emulate_media(color_scheme="dark")
    assert court.evaluate(lane) != light


def test_after_an_answer_the_keyboard_goes_on_at_the_verdict(opened: Opener, cast: Cast) -> None:
    first = path(cast.players[4])
    page = press_open(opened(first, size=PHONE))
    page.goto(f"{first}{cast.entry.pk}/5/quiz/")
    page.get_by_role("radio").first.check()
    page.get_by_role("button", name="Answer").press("Enter")
    expect(page.get_by_role("status")).to_be_focused()
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Next question")).to_be_focused()


def test_a_change_of_language_leaves_the_focus_on_the_languages(opened: Opener, cast: Cast) -> None:
    page = press_open(opened(path(cast.players[4]), size=PHONE))
    page.get_by_role("link", name="Español").press("Enter")
    expect(page.get_by_role("link", name="English")).to_be_focused()
