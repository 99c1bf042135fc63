"""What is drawn stays drawn, whenever answers come: late, out of order, amid a gesture."""

from __future__ import annotations

import random

import pytest
from playwright.sync_api import Page, expect

from plays.core.play import Point
from tests.browser.conftest import Opener
from tests.browser.hands import LEFT_BLOCK, NAIL, RIGHT_BLOCK, TOP, Keys, Mouse, begun, drafted
from tests.cast import Cast

QUICK = 24  # gestures without waiting for an answer
PLACES = (LEFT_BLOCK, RIGHT_BLOCK, NAIL, TOP, Point(4.2, 6.1), Point(-4.4, 6.3), Point(1.2, 7.4))


# Answers that have come from the server and are kept from the page until ``let`` is called; of the
# pages alone, or of the steps.
HOLD = """(steps) => {
    const real = window.fetch;
    window.held = [];
    window.fetch = async (address, more = {}) => {
      const answer = await real(address, more);
      const text = await answer.clone().text();
      if ((more.method === "POST") === steps && !String(address).includes("judged") && text) {
        await new Promise((let_go) => window.held.push(let_go));
      }
      return answer;
    };
    window.free = () => { window.fetch = real; };
}"""
# Each answer takes its own time.
SLOW = """(delays) => {
    const real = window.fetch;
    window.fetch = async (address, more) => {
      const answer = await real(address, more);
      await new Promise((go) => setTimeout(go, delays.pop() ?? 0));
      return answer;
    };
}"""


class Held:
    """Answers that get to the page when a test lets them."""

    def __init__(self, page: Page, *, steps: bool) -> None:
        self.page = page
        page.evaluate(HOLD, steps)

    def come(self, number: int = 1) -> None:
        """Until so many are there."""
        self.page.wait_for_function("(n) => held.length >= n", arg=number)

    def let(self, which: int = 0) -> None:
        """One goes on to the page, which then has had the time to read it."""
        self.page.evaluate("(n) => held.splice(n, 1)[0]()", which)
        self.page.wait_for_timeout(200)

    def end(self) -> None:
        """Nothing is held any more."""
        self.page.evaluate("free()")
        while self.page.evaluate("held.length"):
            self.let()


def two_phases(opened: Opener, cast: Cast) -> Mouse:
    """The 2 has cut to the top, and a second phase follows; they look at the first."""
    hand = Mouse(begun(opened, cast))
    hand.does("cut")
    hand.moves("2", TOP)
    hand.press("What happens next")
    hand.page.locator("[data-show='1']").click()
    expect(hand.page.locator("#drawn")).to_have_attribute("data-phase", "1")
    hand.page.locator("#floor").scroll_into_view_if_needed()
    return hand


def test_a_page_that_comes_late_does_not_take_back_what_was_drawn_since(
    opened: Opener, cast: Cast
) -> None:
    hand = two_phases(opened, cast)
    held = Held(hand.page, steps=False)
    hand.page.locator("[data-show='1']").click()
    held.come()
    hand.drags("3", NAIL)
    hand.settled()
    held.end()
    expect(hand.page.locator("ol.lines")).to_contain_text("nail")
    assert hand.stands("3") == NAIL
    hand.moves("4", LEFT_BLOCK)  # on the newest state
    expect(hand.page.locator("#meanwhile")).to_be_hidden()
    assert [each.role for each in drafted().value().actions()] == ["2", "3", "4"]


def test_the_last_of_two_pages_asked_for_is_shown(opened: Opener, cast: Cast) -> None:
    hand = two_phases(opened, cast)
    held = Held(hand.page, steps=False)
    hand.page.locator("[data-show='1']").click()
    hand.page.locator("[data-show='2']").click()
    held.come(2)
    held.let(1)
    held.end()
    expect(hand.page.locator("#drawn")).to_have_attribute("data-phase", "2")


def test_who_has_turned_the_page_is_not_turned_back_by_an_older_step(
    opened: Opener, cast: Cast
) -> None:
    hand = two_phases(opened, cast)
    held = Held(hand.page, steps=True)
    hand.drags("3", NAIL)
    held.come()
    hand.page.locator("[data-show='2']").click()
    expect(hand.page.locator("#drawn")).to_have_attribute("data-phase", "2")
    held.end()
    hand.settled()
    expect(hand.page.locator("#drawn")).to_have_attribute("data-phase", "2")
    assert hand.stands("3") == NAIL
    hand.press("Undo")  # the step is one's own, wherever one looks
    assert [each.role for each in drafted().value().actions()] == ["2"]


def test_answers_in_the_midst_of_a_gesture_leave_an_undo_for_each(
    opened: Opener, cast: Cast
) -> None:
    hand = Mouse(begun(opened, cast))
    hand.does("cut")
    states = [drafted().content_hash]
    held = Held(hand.page, steps=True)
    hand.drags("2", TOP)
    hand.drags("4", LEFT_BLOCK)
    held.come()
    mouse = hand.page.mouse
    mouse.move(*hand.at(hand.stands("5")))
    mouse.down()
    mouse.move(*hand.at(RIGHT_BLOCK), steps=3)
    states.append(drafted().content_hash)
    held.let()
    held.come()
    states.append(drafted().content_hash)
    held.let()
    assert hand.page.locator(".ghost > *").count()  # the hand is still at work
    mouse.up()
    held.come()
    held.end()
    hand.settled()
    assert len(set(states)) == 3
    for state in reversed(states):
        hand.press("Undo")
        assert drafted().content_hash == state


@pytest.mark.parametrize("way", [Mouse, Keys])
def test_who_is_chosen_while_an_answer_comes_is_chosen_on_the_new_court(
    opened: Opener, cast: Cast, way: type[Mouse] | type[Keys]
) -> None:
    page = begun(opened, cast)
    hand = Mouse(page)
    hand.does("cut")
    held = Held(page, steps=True)
    hand.drags("2", TOP)
    held.come()
    third = page.locator("#drawn .piece[data-role='3']")
    if way is Keys:
        third.focus()
        page.keyboard.press("ArrowDown")  # the hand is at work
        held.end()
        page.keyboard.press("4")
        third = page.locator("#drawn .piece[data-role='4']")
        expect(third).to_be_focused()
    else:
        page.mouse.move(*hand.at(hand.stands("3")))
        page.mouse.down()
        held.end()
        page.mouse.up()
    expect(page.locator("ol.lines")).to_contain_text("top")
    expect(third).to_have_attribute("aria-pressed", "true")


def test_a_button_is_pressed_while_the_ring_is_out_and_an_answer_has_come(
    opened: Opener, cast: Cast
) -> None:
    """Nobody else has changed the play, so nobody is told so."""
    page = begun(opened, cast)
    hand = Mouse(page)
    hand.does("cut")
    hand.moves("3", NAIL)
    held = Held(page, steps=True)
    hand.drags("2", TOP)
    held.come()
    page.locator("#drawn .piece[data-role='4']").focus()
    page.keyboard.press("ArrowDown")
    held.end()
    page.get_by_role("button", name="They switch").click()
    hand.settled()
    expect(page.locator("#meanwhile")).to_be_hidden()
    assert len(drafted().value().counters) == 1


@pytest.mark.parametrize("seed", [1, 2])
def test_many_quick_gestures_at_a_slow_server_are_all_kept_in_their_order(
    opened: Opener, cast: Cast, seed: int
) -> None:
    """Each answer takes its own time, and gestures go on meanwhile."""
    page = begun(opened, cast)
    hand, chance = Mouse(page), random.Random(seed)
    hand.does("cut")

    page.set_default_timeout(120_000)
    page.evaluate(SLOW, [chance.choice((0, 30, 120, 400)) for _ in range(QUICK)])
    wanted: list[tuple[str, Point]] = []
    for _ in range(QUICK):
        role = chance.choice("2345")
        here = hand.stands(role)
        free = [
            each
            for each in PLACES
            if each != here and all(hand.stands(other) != each for other in "12345")
        ]
        place = chance.choice(free)
        hand.drags(role, place)
        wanted.append((role, place))
        assert hand.stands(role) == place  # drawn at once, and not taken back
    hand.settled()
    found = [(each.role, each.path[-1]) for each in drafted().value().actions()]
    assert found == wanted
    for role, place in dict(wanted).items():
        assert hand.stands(role) == place
