"""What a player's phone does after a tap, and how a question's court looks."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser.conftest import PHONE, Opener
from tests.cast import Cast
from tests.phone import path, press_open


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
