"""What a finger on the court does to the page, and where the keyboard goes from there."""

from __future__ import annotations

from itertools import pairwise

import pytest
from playwright.sync_api import Page

from tests.browser.conftest import PHONE, WIDE, Opener
from tests.browser.hands import NAIL, Finger, begun, drafted
from tests.cast import Cast


def scale(page: Page) -> float:
    return float(page.evaluate("window.visualViewport.scale"))


def test_a_finger_on_the_court_draws_and_beside_it_scrolls_and_two_fingers_zoom(
    opened: Opener, cast: Cast
) -> None:
    """Touches come from below the page, so scrolling and zooming are the browser's own."""
    hand = Finger(begun(opened, cast, size=PHONE, has_touch=True, is_mobile=True))
    page = hand.page
    hand.does("cut")
    page.evaluate("document.querySelector('#floor').scrollIntoView({block: 'center'})")

    def top() -> float:
        return float(page.evaluate("window.scrollY"))

    def drawn_down(x: float, y: float) -> None:
        hand.touch("touchStart", (x, y))
        for n in range(1, 9):
            hand.touch("touchMove", (x, y - 5 * n))
        hand.touch("touchEnd")
        page.wait_for_timeout(300)

    page.wait_for_timeout(300)
    before = top()
    x, y = hand.at(hand.stands("2"))
    drawn_down(x, y)
    hand.settled()
    assert top() == before
    drawn_down(40, 20)  # above the court
    assert top() > before
    kept = drafted().content_hash
    page.evaluate("document.querySelector('#floor').scrollIntoView({block: 'center'})")
    page.wait_for_timeout(300)
    x, y = hand.at(NAIL)
    hand.touch("touchStart", (x - 10, y))
    hand.touch("touchStart", (x - 10, y), (x + 10, y))
    for n in range(1, 12):
        hand.touch("touchMove", (x - 10 - 10 * n, y), (x + 10 + 10 * n, y))
    hand.touch("touchEnd")
    page.wait_for_function("() => window.visualViewport.scale > 1.5")
    assert scale(page) > 1.5
    assert drafted().content_hash == kept
    assert page.locator(".ghost > *").count() == 0


SEEN = """() => { const one = document.activeElement, box = one.getBoundingClientRect();
    const names = ["#doing", ".drawn-court", ".drawn-words"];
    const part = names.findIndex((name) => one.closest(name));
    return { part, court: one.closest("#floor") !== null,
    left: box.left, right: box.right, top: box.top + scrollY, bottom: box.bottom + scrollY }; }"""


@pytest.mark.parametrize("size", [PHONE, {"width": 1024, "height": 768}, WIDE])
def test_the_focus_goes_in_the_order_that_is_seen(
    opened: Opener, cast: Cast, size: dict[str, int]
) -> None:
    """WCAG 2.2, 1.3.2 and 2.4.3: what they do, the court, the words; down, then to the right."""
    page = begun(opened, cast, size=size)
    page.locator("input[name=do]").first.focus()
    stops = [page.evaluate(SEEN)]
    while stops[-1]["part"] >= 0:
        page.keyboard.press("Tab")
        stops.append(page.evaluate(SEEN))
    stops = stops[:-1]
    assert {each["part"] for each in stops} == {0, 1, 2}
    for one, other in pairwise(stops):
        assert other["part"] >= one["part"]
        if other["court"]:
            continue  # people stand where they stand: 1 to 5
        below = other["top"] >= one["bottom"] - 1
        beside = other["left"] >= one["right"] - 1
        assert below or beside, (one, other)
