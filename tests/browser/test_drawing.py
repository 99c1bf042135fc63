"""A play drawn by hand in the browser: by mouse, by finger, by keyboard alone."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from django.urls import reverse
from PIL import Image
from playwright.sync_api import FilePayload, Page, expect
from pypdf import PdfReader

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.document.form import problems
from plays.core.play import Cue, Moment, Point
from plays.models import Play, Revision
from tests.browser.accessibility import assert_no_fault
from tests.browser.conftest import PHONE, WIDE, Opener
from tests.cast import Cast
from tests.plays.core.samples import with_cues

LEFT_BLOCK, RIGHT_BLOCK = Point(-2.45, 2.8), Point(2.45, 2.8)
NAIL, TOP, BASKET = Point(0, 5.8), Point(0, 8.725), Point(0, 1.575)
MOST = 60  # actions for the whole play


class Hand:
    """Draws on a page in one way, and counts what a person does."""

    def __init__(self, page: Page) -> None:
        self.page, self.count = page, 0

    def settled(self) -> None:
        """Until the server has everything."""
        self.page.wait_for_function(
            "() => !Object.keys(localStorage).some((each) => each.startsWith('coachbook-draw-'))"
        )

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
        mouse = self.page.mouse
        mouse.move(*self.at(self.stands(role)))
        mouse.down()
        mouse.move(*self.at(place), steps=4)
        mouse.up()
        self.settled()


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


class Keys(Hand):
    """The keyboard alone: a place by its name, or the arrow keys."""

    def press(self, name: str, **more: Any) -> None:
        self.count += 1
        self.page.get_by_role("button", name=name, **more).first.focus()
        self.page.keyboard.press("Enter")
        self.settled()

    def does(self, what: str) -> None:
        self.count += 1
        choice = self.page.locator(f"input[name=do][value={what}]")
        choice.focus()
        self.page.keyboard.press("Space")
        expect(choice).to_be_checked()

    def moves(self, role: str, place: Point) -> None:
        keys = self.page.keyboard
        self.page.locator("#drawn .piece").first.focus()
        keys.press(role)
        self.count += 1
        here = self.stands(role)
        for away, (less, more) in (
            (place.x - here.x, ("ArrowLeft", "ArrowRight")),
            (place.y - here.y, ("ArrowUp", "ArrowDown")),
        ):
            presses = round(abs(away) / 0.25)
            for _ in range(presses):
                keys.press(less if away < 0 else more)
            self.count += 1 if presses else 0  # a key held down
        keys.press("Enter")
        self.count += 1
        self.settled()


def begun(opened: Opener, cast: Cast, **more: Any) -> Page:
    page = opened(reverse("new-play"), cast.keeper, **more)
    page.get_by_label("Name of the play").fill("Box Hill")
    page.get_by_role("button", name="Begin").click()
    expect(page.locator("#drawn .piece")).to_have_count(5)
    # The script listens now; of a fieldset itself the question would always be answered with yes.
    expect(page.locator("input[name=do]").first).to_be_enabled()
    return page


def box_play(hand: Hand) -> None:
    """Two screens, two looks, a counter."""
    hand.does("screen")
    hand.moves("5", RIGHT_BLOCK)
    hand.moves("3", NAIL)
    hand.does("cut")
    hand.moves("4", LEFT_BLOCK)
    hand.moves("2", TOP)
    hand.press("They switch")
    hand.moves("5", BASKET)


def drafted() -> Revision:
    return Revision.objects.get(play__key="box-hill")


@pytest.mark.parametrize(
    ("make", "more"),
    [(Mouse, {"size": WIDE}), (Finger, {"size": PHONE, "has_touch": True}), (Keys, {"size": WIDE})],
)
def test_a_box_play_is_drawn_published_and_seen(
    opened: Opener, cast: Cast, make: Callable[[Page], Hand], more: dict[str, Any]
) -> None:
    hand = make(begun(opened, cast, **more))
    box_play(hand)
    value = drafted().value()
    assert sorted(each.kind.value for each in value.actions()) == ["cut", "cut", "screen", "screen"]
    assert len(value.looks) == 2
    assert [each.role for each in value.counters[0].add] == ["5"]
    assert problems(value) == ()
    assert hand.count < MOST
    page = hand.page
    expect(page.locator("#judged")).to_contain_text("What the check says")
    page.get_by_role("link", name="See the whole play").click()
    page.get_by_role("button", name="Publish").first.click()
    expect(page.get_by_role("heading", name="Box Hill")).to_be_visible()
    assert Play.objects.get(key="box-hill").current is not None
    expect(page.locator(".role-parts")).to_contain_text("screen")
    expect(page.locator("#view")).to_contain_text("They switch")
    on_sheet_and_pdf(cast)


def on_sheet_and_pdf(cast: Cast) -> None:
    """The 4 is told to come off the screen, on the phone's page and on paper."""
    entry = factories.PackagePlayFactory.create(
        team=cast.team, play=Play.objects.get(key="box-hill"), call="Hill"
    )
    for role, player in enumerate(cast.players[:5], start=1):
        factories.CastingFactory.create(entry=entry, role=str(role), player=player)
    client, pk = cast.client(cast.head), cast.players[3].pk
    sheet = client.get(reverse("sheet", args=[pk])).content.decode()
    assert "Hill" in sheet
    paper = b"".join(client.get(reverse("sheet-pdf", args=[pk])))
    text = " ".join(each.extract_text() for each in PdfReader(io.BytesIO(paper)).pages)
    assert "Hill" in text
    assert "far block" in sheet
    assert "far block" in text.replace("\n", " ")


@pytest.mark.parametrize(
    ("make", "more"),
    [(Mouse, {"size": WIDE}), (Finger, {"size": PHONE, "has_touch": True}), (Keys, {"size": WIDE})],
)
def test_a_gate_is_one_gesture_over_two_people_and_one_undo(
    opened: Opener, cast: Cast, make: type[Hand], more: dict[str, Any]
) -> None:
    hand = make(begun(opened, cast, **more))
    empty = drafted().content_hash
    hand.does("gate")
    if isinstance(hand, Keys):
        hand.page.locator("#drawn .piece").first.focus()
        hand.page.keyboard.press("2")
        hand.page.keyboard.press("3")
        hand.settled()
    else:
        hand.moves("2", hand.stands("3"))
    value = drafted().value()
    parts = [(each.role, each.joint.part) for each in value.actions() if each.joint]
    assert parts == [("2", "open"), ("3", "open"), ("2", "close"), ("3", "close")]
    assert [each.role for each in value.actions() if each.kind.value == "cut"] == ["4"]
    expect(hand.page.locator("#said")).to_contain_text("The gate opens here")
    hand.press("2. Through the gate")
    expect(hand.page.locator("ol.lines")).to_contain_text("Close the gate")
    hand.press("Undo")
    assert drafted().content_hash == empty


def test_undo_takes_back_one_gesture_and_redo_brings_it_again(opened: Opener, cast: Cast) -> None:
    hand = Mouse(begun(opened, cast))
    hand.does("cut")
    hand.moves("2", TOP)
    drawn = drafted().content_hash
    hand.moves("3", NAIL)
    hand.press("Undo")
    assert drafted().content_hash == drawn
    hand.page.reload()  # the sitting goes on
    hand.press("Undo")
    assert drafted().value().actions() == ()
    hand.press("Redo")
    assert drafted().content_hash == drawn


def test_steps_wait_on_the_device_through_a_lost_connection_and_a_reload(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    page = begun(opened, cast)
    hand = Mouse(page)
    hand.does("cut")
    page.route(
        "**/draw/",
        lambda route: route.abort() if route.request.method == "POST" else route.continue_(),
    )
    mouse = page.mouse
    mouse.move(*hand.at(hand.stands("2")))
    mouse.down()
    mouse.move(*hand.at(TOP), steps=4)
    mouse.up()
    expect(page.locator("#said")).to_contain_text("Kept on this device")
    assert drafted().value().actions() == ()
    page.unroute("**/draw/")
    page.reload()
    hand.settled()
    assert [each.id for each in drafted().value().actions()] == ["2-cut"]
    assert all("ERR_FAILED" in fault for fault in faults)
    faults.clear()


def test_a_second_window_is_told_and_chooses(opened: Opener, cast: Cast, faults: list[str]) -> None:
    page = begun(opened, cast)
    other = opened(reverse("draw-play", args=["box-hill"]), cast.keeper)
    first, second = Mouse(page), Mouse(other)
    for hand in (first, second):
        hand.does("cut")
    first.moves("2", TOP)
    other.mouse.move(*second.at(second.stands("3")))
    other.mouse.down()
    other.mouse.move(*second.at(NAIL), steps=4)
    other.mouse.up()
    expect(other.locator("#meanwhile")).to_contain_text("Somebody changed this play meanwhile.")
    assert [each.role for each in drafted().value().actions()] == ["2"]
    second.press("Do my steps on the newest state")
    assert [each.role for each in drafted().value().actions()] == ["2", "3"]
    assert any("409" in fault for fault in faults)
    faults.clear()


def test_off_the_court_and_without_the_ball_are_told(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    hand = Mouse(begun(opened, cast))
    kept = drafted().content_hash
    hand.does("cut")
    hand.moves("2", Point(8.2, 3))
    expect(hand.page.locator("#said")).to_have_text(
        "That place is off the court. Nothing was changed."
    )
    hand.does("pass")
    hand.moves("2", hand.stands("3"))
    expect(hand.page.locator("#said")).to_contain_text("The 2 does not have the ball then.")
    assert drafted().content_hash == kept
    assert all("422" in fault for fault in faults)
    faults.clear()


def test_a_cancelled_drag_and_a_second_finger_change_nothing(opened: Opener, cast: Cast) -> None:
    hand = Finger(begun(opened, cast, size=PHONE, has_touch=True))
    hand.does("cut")
    kept = drafted().content_hash
    hand.page.evaluate("document.querySelector('#floor').scrollIntoView({block: 'center'})")
    start, end = hand.at(hand.stands("2")), hand.at(TOP)
    hand.touch("touchStart", start)
    hand.touch("touchMove", end)
    hand.touch("touchStart", end, hand.at(NAIL))
    hand.touch("touchEnd")
    hand.touch("touchStart", start)
    hand.touch("touchMove", end)
    hand.page.keyboard.press("Escape")
    hand.touch("touchEnd")
    hand.touch("touchStart", start)
    hand.touch("touchCancel")
    hand.settled()
    assert drafted().content_hash == kept
    assert hand.page.locator(".ghost > *").count() == 0


def test_a_person_a_place_and_a_button_without_dragging(opened: Opener, cast: Cast) -> None:
    """WCAG 2.2, 2.5.7: what a drag does is done by single presses too."""
    hand = Mouse(begun(opened, cast))
    page = hand.page
    hand.does("cut")
    page.get_by_text("By name, without touching the court").click()
    page.locator("select[name=role]").select_option("2")
    page.locator("select[name=place]").select_option(label="the right corner")
    hand.press("Draw it")
    hand.does("way")
    way = page.locator("#drawn .way")
    expect(way).to_have_count(1)
    page.evaluate("document.querySelector('#floor').scrollIntoView({block: 'center'})")
    page.mouse.click(*hand.at(drafted().value().actions()[0].path[0]))
    page.mouse.click(*hand.at(TOP))
    hand.settled()
    assert drafted().value().actions()[0].path == (TOP,)


def board() -> bytes:
    """A grey photo of a camera's size, which the browser makes smaller before it is sent."""
    out = io.BytesIO()
    noise = Image.effect_noise((3600, 2700), 90)
    noise.convert("RGB").save(out, "JPEG", quality=92)
    return out.getvalue()


def test_a_photo_is_marked_by_four_presses_and_lies_under_the_court(
    opened: Opener, cast: Cast
) -> None:
    page = begun(opened, cast, size=PHONE)
    page.get_by_role("link", name="A photo to trace over").click()
    file = FilePayload(name="board.jpg", mimeType="image/jpeg", buffer=board())
    page.get_by_label("Photo (JPEG, PNG or WebP)").set_input_files(file)
    page.get_by_role("button", name="Keep the photo").click()
    photo = page.get_by_role("img", name="The photo that is traced")
    expect(photo).to_be_visible()
    box = photo.bounding_box()
    assert box
    for across, down in ((0.1, 0.1), (0.9, 0.15), (0.95, 0.9), (0.05, 0.85)):
        photo.click(position={"x": across * box["width"], "y": down * box["height"]})
    assert_no_fault(page, "draw-photo, marked")
    page.get_by_role("button", name="Lay it under the court").click()
    expect(page.locator(".traced image")).to_be_visible()
    hand = Mouse(page)
    hand.does("cut")
    hand.moves("2", TOP)
    expect(page.locator(".traced image")).to_be_visible()
    assert_no_fault(page, "draw-play, traced")


def test_a_remedy_is_applied_with_a_press_and_undone(opened: Opener, cast: Cast) -> None:
    play = demo_play("gangway")
    late = with_cues(play, play.looks[0].action, Cue(Moment.SIGNAL, wait=4.5))
    factories.published(replace(late, key="late", name="Late"))
    hand = Mouse(opened(reverse("draw-play", args=["late"]), cast.keeper))
    remedy = hand.page.locator("#judged button").first
    expect(remedy).to_be_visible()
    assert_no_fault(hand.page, "draw-play, judged")
    remedy.click()
    hand.settled()
    mended = Revision.objects.get(play__key="late", published_at=None)
    assert mended.value().actions() != late.actions()
    hand.press("Undo")
    mended.refresh_from_db()
    assert mended.value().actions() == late.actions()
