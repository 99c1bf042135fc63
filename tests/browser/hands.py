"""Hands that draw a play: by mouse, finger, pen or keyboard, counting what they do."""

from __future__ import annotations

from typing import Any

from django.urls import reverse
from playwright.sync_api import Locator, Page, expect

from plays.core.play import Point
from plays.models import Revision
from tests.browser.conftest import Opener
from tests.cast import Cast

LEFT_BLOCK, RIGHT_BLOCK = Point(-2.45, 2.8), Point(2.45, 2.8)
STEP = 0.25  # metres of an arrow key
BEFORE = """each => Boolean(document.activeElement.compareDocumentPosition(each)
    & Node.DOCUMENT_POSITION_PRECEDING)"""
MOST_STOPS = 80
PART = "order => order.findLastIndex(each => document.activeElement.closest(each))"
NAIL, TOP, BASKET = Point(0, 5.8), Point(0, 8.725), Point(0, 1.575)


class Hand:
    """Draws on a page in one way, and counts what a person does."""

    def __init__(self, page: Page) -> None:
        self.page, self.count = page, 0

    def settled(self) -> None:
        """Until the server has everything."""
        self.page.wait_for_function(
            "() => !Object.keys(localStorage).some((each) => each.startsWith('coachbook-draw-'))"
        )

    def begins(self, name: str) -> None:
        """From the page of new plays to the court, once the script listens."""
        self.writes("Name of the play", name)
        self.begin()
        expect(self.page.locator("#drawn .piece")).to_have_count(5)
        # Of a fieldset itself the question would always be answered with yes.
        expect(self.page.locator("input[name=do]").first).to_be_enabled()

    def begin(self) -> None:
        self.press("Begin")

    def publishes(self) -> None:
        self.follows("See the whole play")
        self.press("Publish")

    def writes(self, label: str, text: str) -> None:
        """One action, as pressing a field and filling it in is one."""
        self.count += 1
        self.page.get_by_label(label).click()
        self.page.keyboard.type(text)

    def follows(self, link: str) -> None:
        self.count += 1
        self.page.get_by_role("link", name=link).click()

    def press(self, name: str, **more: Any) -> None:
        self.count += 1
        self.page.get_by_role("button", name=name, **more).first.click()
        self.settled()

    def does(self, what: str) -> None:
        self.count += 1
        self.page.locator(f"input[name=do][value={what}]").check()

    def at(self, place: Point) -> tuple[float, float]:
        """Where a place of the court is on the screen."""
        found = self.page.evaluate(
            """([x, y]) => { const floor = document.querySelector("#floor");
            const svg = floor.querySelector(".hands"), box = svg.getBoundingClientRect();
            const per = box.width / svg.viewBox.baseVal.width * Number(floor.dataset.scale);
            const { left, top } = floor.dataset;
            return [box.left + (x - left) * per, box.top + (y - top) * per]; }""",
            list(place),
        )
        return found[0], found[1]

    def stands(self, role: str) -> Point:
        piece = self.page.locator(f"#drawn .piece[data-role='{role}']")
        x, y = piece.get_attribute("data-x"), piece.get_attribute("data-y")
        assert x
        assert y
        return Point(float(x), float(y))

    def moves(self, role: str, place: Point) -> None:
        raise NotImplementedError


class Mouse(Hand):
    def moves(self, role: str, place: Point) -> None:
        self.count += 1
        self.page.locator("#floor").scroll_into_view_if_needed()
        self.drags(role, place)
        self.settled()

    def drags(self, role: str, place: Point) -> None:
        """Without waiting for the server's answer."""
        mouse = self.page.mouse
        mouse.move(*self.at(self.stands(role)))
        mouse.down()
        mouse.move(*self.at(place), steps=4)
        mouse.up()


class Finger(Hand):
    """Touches as the browser gets them from the screen; every other move by tap and tap."""

    def __init__(self, page: Page) -> None:
        super().__init__(page)
        self.screen = page.context.new_cdp_session(page)

    def touch(self, kind: str, *points: tuple[float, float]) -> None:
        places = [{"x": x, "y": y, "id": n} for n, (x, y) in enumerate(points)]
        self.screen.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": places})

    def tap(self, place: Point) -> None:
        self.count += 1
        self.touch("touchStart", self.at(place))
        self.touch("touchEnd")

    def moves(self, role: str, place: Point) -> None:
        self.page.evaluate("document.querySelector('#floor').scrollIntoView({block: 'center'})")
        start = self.stands(role)
        if self.count % 2:
            self.tap(start)
            self.tap(place)
        else:
            self.count += 1
            (ax, ay), (bx, by) = self.at(start), self.at(place)
            self.touch("touchStart", (ax, ay))
            for share in (0.2, 0.6, 1.0):
                self.touch("touchMove", (ax + share * (bx - ax), ay + share * (by - ay)))
            self.touch("touchEnd")
        self.settled()


class Pen(Hand):
    """A stylus, as the browser gets it from the screen."""

    def __init__(self, page: Page) -> None:
        super().__init__(page)
        self.screen = page.context.new_cdp_session(page)

    def pen(self, kind: str, place: tuple[float, float]) -> None:
        about = {
            "pointerType": "pen",
            "button": "left",
            "buttons": 1,
            "clickCount": 1,
            "force": 0.5,
        }
        self.screen.send(
            "Input.dispatchMouseEvent", {"type": kind, "x": place[0], "y": place[1], **about}
        )

    def moves(self, role: str, place: Point) -> None:
        self.count += 1
        self.page.evaluate("document.querySelector('#floor').scrollIntoView({block: 'center'})")
        (ax, ay), (bx, by) = self.at(self.stands(role)), self.at(place)
        ax += 20  # a pen reaches as far as a finger
        self.pen("mousePressed", (ax, ay))
        for share in (0.2, 0.6, 1.0):
            self.pen("mouseMoved", (ax + share * (bx - ax), ay + share * (by - ay)))
        self.pen("mouseReleased", (bx, by))
        self.settled()


class Keys(Hand):
    """The keyboard alone: on the court every press counts, elsewhere to get there and the press.

    ``presses`` counts each Tab as well; what is typed in one go is one.
    """

    presses = 0

    def reach(self, wanted: Locator) -> None:
        """With Tab to what is wanted, backwards where it comes before; first past the menus."""
        if self.page.evaluate("document.activeElement === document.body"):
            self.key("Tab")
            self.key("Enter")
        before, count = wanted.evaluate(BEFORE), self.count
        for _ in range(MOST_STOPS):
            if wanted.evaluate("each => each === document.activeElement"):
                self.count = min(self.count, count + 1)
                return
            self.key("Shift+Tab" if before else "Tab")
        raise AssertionError(f"no way with Tab to {wanted}")

    def writes(self, label: str, text: str) -> None:
        self.reach(self.page.get_by_label(label))
        self.count += 1
        self.page.keyboard.type(text)

    def begin(self) -> None:
        self.key("Enter")

    def follows(self, link: str) -> None:
        wanted = self.page.get_by_role("link", name=link)
        if wanted.get_attribute("data-end") is not None:
            self.parts("[data-end]")
        self.reach(wanted)
        with self.page.expect_navigation():
            self.key("Enter")

    def press(self, name: str, **more: Any) -> None:
        wanted = self.page.get_by_role("button", name=name, **more).first
        if wanted.evaluate("each => each.closest('.drawn-words') !== null"):
            self.parts(".drawn-words")
        self.reach(wanted)
        self.key("Enter")
        self.settled()

    def does(self, what: str) -> None:
        """On the court Page Up and Page Down go through it."""
        self.to_court()
        wanted = self.page.locator(f"input[name=do][value={what}]")
        now, then = (
            each.evaluate("each => [...document.querySelectorAll('[name=do]')].indexOf(each)")
            for each in (self.page.locator("input[name=do]:checked"), wanted)
        )
        for _ in range(abs(then - now)):
            self.key("PageDown" if then > now else "PageUp")
        expect(wanted).to_be_checked()

    def to_court(self) -> None:
        self.parts("#floor")

    def parts(self, wanted: str) -> None:
        """With F6 to a part of the page of drawing; elsewhere F6 is the browser's."""
        order = ["#floor", ".drawn-words", "[data-end]"]
        for _ in order:
            now = self.page.evaluate(PART, order)
            if now == order.index(wanted):
                return
            self.key("F6" if now < order.index(wanted) else "Shift+F6")
        assert self.page.evaluate(PART, order) == order.index(wanted)

    def moves(self, role: str, place: Point) -> None:
        """Every press counts: to the person, over named places and in steps, and Enter."""
        self.to_court()
        self.key(role)
        here, turned = self.stands(role), {"x": False, "y": False}
        while max(abs(place.x - here.x), abs(place.y - here.y)) > STEP / 2:
            axis = "x" if abs(place.x - here.x) >= abs(place.y - here.y) else "y"
            away = getattr(place, axis) - getattr(here, axis)
            arrow = {"x": ("ArrowLeft", "ArrowRight"), "y": ("ArrowUp", "ArrowDown")}[axis][
                away > 0
            ]
            far = abs(away) > 4 * STEP and not turned[axis]
            self.key(f"Control+{arrow}" if far else arrow)
            now = self.ring()
            left = getattr(place, axis) - getattr(now, axis)
            turned[axis] |= left * away < 0 or now == here
            here = now
        self.key("Enter")
        self.settled()

    def key(self, name: str) -> None:
        self.count += 1
        self.presses += 1
        self.page.keyboard.press(name)

    def ring(self) -> Point:
        """Where the ring is, in metres."""
        x, y = self.page.evaluate(
            """() => { const ring = document.querySelector(".ghost circle");
            const { left, top, scale } = document.querySelector("#floor").dataset;
            return ["cx", "cy"].map((name, n) => Number(ring.getAttribute(name)) / Number(scale)
            + Number(n ? top : left)); }"""
        )
        return Point(round(x, 2), round(y, 2))


def begun(opened: Opener, cast: Cast, **more: Any) -> Page:
    page = opened(reverse("new-play"), cast.keeper, **more)
    Hand(page).begins("Box Hill")
    return page


def drafted() -> Revision:
    return Revision.objects.get(play__key="box-hill")
