"""What a finger on the court does to the page, and where the keyboard goes from there."""

from __future__ import annotations

from itertools import pairwise

import pytest
from playwright.sync_api import Page, expect

from plays.core.play import Point
from tests.browser.conftest import PHONE, WIDE, Opener
from tests.browser.hands import LEFT_BLOCK, NAIL, TOP, Finger, Mouse, begun, drafted
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
    const names = ["#doing", ".drawn-middle", ".drawn-words"];
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


def test_the_disc_of_somebody_who_has_gone_takes_hold_of_them(opened: Opener, cast: Cast) -> None:
    """Who goes elsewhere is drawn where they come from; a press there bends no line."""
    hand = Mouse(begun(opened, cast))
    starts = {role: hand.stands(role) for role in ("2", "4")}
    hand.does("cut")
    hand.moves("4", LEFT_BLOCK)
    ways = [each.path for each in drafted().value().actions()]

    def dragged(there: Point, to: Point) -> None:
        hand.page.mouse.move(*hand.at(there))
        hand.page.mouse.down()
        hand.page.mouse.move(*hand.at(to), steps=4)
        hand.page.mouse.up()
        hand.settled()

    dragged(starts["4"], TOP)
    actions = drafted().value().actions()
    assert [each.path for each in actions] == [*ways, (TOP,)]
    expect(hand.page.locator("#said")).to_contain_text("The 4 does this next")
    hand.does("screen")
    dragged(starts["2"], starts["4"])  # dropped on the disc, for whom it is
    assert drafted().value().actions()[-1].cutter == "4"
    hand.does("cut")
    dragged(Point((starts["4"].x + LEFT_BLOCK.x) / 2, (starts["4"].y + LEFT_BLOCK.y) / 2), NAIL)
    assert len(drafted().value().actions()[0].path) == 2
    expect(hand.page.locator("#said")).to_have_text("The line goes that way now.")


def test_the_court_stays_and_what_is_said_of_it_passes_below_in_sight(
    opened: Opener, cast: Cast
) -> None:
    """What has the focus is not covered by the court that stays (WCAG 2.2, 2.4.11)."""
    hand = Mouse(begun(opened, cast))
    page = hand.page
    hand.does("cut")
    for role, place in (("2", TOP), ("4", LEFT_BLOCK), ("3", NAIL)):
        hand.moves(role, place)
    page.evaluate("scrollTo(0, 0)")
    court, check = page.locator("#floor").bounding_box(), page.locator("#judged").bounding_box()
    words = page.locator(".drawn-words").bounding_box()
    assert court
    assert check
    assert words
    assert check["y"] >= court["y"] + court["height"]
    assert abs(check["x"] - court["x"]) < 2
    assert check["x"] + check["width"] <= words["x"]
    page.mouse.wheel(0, 400)
    page.wait_for_function("() => scrollY > 300")
    for stop in page.locator(".drawn-told summary").all():
        stop.focus()
        assert stop.evaluate(
            """(each) => { const { left, top, height } = each.getBoundingClientRect();
            const y = top + height / 2;
            return y < innerHeight && each.contains(document.elementFromPoint(left + 20, y)); }"""
        ), stop.text_content()
        stayed = page.locator("#floor").bounding_box()
        assert stayed
        assert stayed["y"] >= 0


def test_a_longer_or_shorter_answer_does_not_move_the_court(opened: Opener, cast: Cast) -> None:
    """On a phone the answers stand above the court."""
    hand = Finger(begun(opened, cast, size=PHONE, has_touch=True))
    top = "() => document.querySelector('#floor').getBoundingClientRect().top + scrollY"
    hand.does("cut")
    hand.moves("4", NAIL)
    before = hand.page.evaluate(top)
    expect(hand.page.locator("#said")).to_have_text("Kept as a draft.")
    hand.moves("4", TOP)
    expect(hand.page.locator("#said")).to_contain_text("The 4 does this next")
    assert hand.page.evaluate(top) == before


def test_tab_stops_once_among_the_people_and_f6_goes_from_part_to_part(
    opened: Opener, cast: Cast
) -> None:
    """WAI-ARIA authoring practices: one stop for a widget of several, F6 for the next pane."""
    hand = Mouse(begun(opened, cast))
    page = hand.page
    hand.does("cut")
    hand.moves("2", TOP)
    stops = page.locator("#drawn .piece[tabindex='0']")
    page.evaluate("document.activeElement.blur()")
    page.keyboard.press("F6")
    expect(page.locator("#drawn .piece[data-role='2']")).to_be_focused()  # who was moved last
    page.keyboard.press("4")
    expect(page.locator("#drawn .piece[data-role='4']")).to_be_focused()
    expect(stops).to_have_count(1)
    page.keyboard.press("Tab")
    assert not page.evaluate("document.activeElement.closest('#floor') !== null")
    page.keyboard.press("Shift+Tab")
    expect(page.locator("#drawn .piece[data-role='4']")).to_be_focused()
    page.keyboard.press("F6")
    expect(page.locator(".drawn-words summary").first).to_be_focused()
    page.keyboard.press("F6")
    expect(page.get_by_role("link", name="See the whole play")).to_be_focused()
    page.evaluate(
        """() => { window.left = null; addEventListener("keydown", (event) => {
        window.left = event.defaultPrevented; }); }"""
    )
    page.keyboard.press("F6")  # no trap: the browser has it (WCAG 2.2, 2.1.2)
    assert page.evaluate("window.left") is False
    page.locator("[data-end]").focus()
    page.keyboard.press("Shift+F6")
    page.keyboard.press("Shift+F6")
    expect(page.locator("#drawn .piece[data-role='4']")).to_be_focused()
