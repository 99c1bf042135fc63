"""A play drawn by hand in the browser: by mouse, by finger, by keyboard alone."""

from __future__ import annotations

import io
import re
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
from tests.browser.hands import (
    BASKET,
    LEFT_BLOCK,
    NAIL,
    RIGHT_BLOCK,
    TOP,
    Finger,
    Hand,
    Keys,
    Mouse,
    Pen,
    begun,
    drafted,
)
from tests.cast import Cast
from tests.plays.core.samples import with_cues

TABLET = {"width": 768, "height": 1024}
MOST = 60  # actions for the whole play, from its name to its publishing
MOST_PRESSES = 60  # with every Tab counted


# What the browser itself counts, over all pages: presses of a pointer, and keys that write nothing.
PRESSED = """
  const more = (name) => { sessionStorage[name] = Number(sessionStorage[name] ?? 0) + 1; };
  addEventListener("pointerdown", () => more("pressed"), true);
  addEventListener("keydown", ({ key, target }) => {
    const writes = key.length === 1 && target.matches("input[type=text], textarea");
    if (!writes && !["Control", "Shift"].includes(key)) more("keyed");
  }, true);
"""


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


@pytest.mark.parametrize(
    ("make", "more"),
    [
        (Mouse, {"size": WIDE}),
        (Finger, {"size": PHONE, "has_touch": True}),
        (Pen, {"size": TABLET}),
        (Keys, {"size": WIDE}),
    ],
)
def test_a_box_play_is_drawn_published_and_seen(
    opened: Opener, cast: Cast, make: Callable[[Page], Hand], more: dict[str, Any]
) -> None:
    page = opened(reverse("new-play"), cast.keeper, **more)
    page.context.add_init_script(PRESSED)
    page.reload()
    hand = make(page)
    hand.begins("Box Hill")
    box_play(hand)
    value = drafted().value()
    assert sorted(each.kind.value for each in value.actions()) == ["cut", "cut", "screen", "screen"]
    assert len(value.looks) == 2
    assert [each.role for each in value.counters[0].add] == ["5"]
    assert problems(value) == ()
    expect(page.locator("#judged")).to_contain_text("What the check says")
    hand.publishes()
    expect(page.get_by_role("heading", name="Box Hill")).to_be_visible()
    pressed, keyed = page.evaluate(
        "[sessionStorage.pressed ?? 0, sessionStorage.keyed ?? 0].map(Number)"
    )
    if isinstance(hand, Keys):
        assert (pressed, keyed) == (0, hand.presses)
        assert hand.presses < MOST_PRESSES
    else:
        assert pressed == hand.count  # naming, Begin and Publish with all the rest
    assert hand.count < MOST
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
    checked = cast.client(cast.keeper).get(reverse("check-revision", args=["box-hill", 1]))
    assert checked.context["view"].findings
    assert len(checked.context["view"].looks) == 2


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


def test_a_pen_draws_as_a_finger_does(opened: Opener, cast: Cast) -> None:
    hand = Pen(begun(opened, cast))
    hand.page.evaluate(
        """() => { window.kinds = []; document.querySelector("#drawn").addEventListener(
        "pointerdown", (event) => window.kinds.push(event.pointerType)); }"""
    )
    hand.does("screen")
    hand.moves("5", RIGHT_BLOCK)
    assert hand.page.evaluate("window.kinds") == ["pen"]
    hand.does("cut")
    hand.moves("4", LEFT_BLOCK)
    hand.does("pass")
    hand.moves("1", hand.stands("4"))
    kinds = [(each.role, each.kind.value, each.to) for each in drafted().value().actions()]
    assert kinds == [("5", "screen", None), ("4", "cut", None), ("1", "pass", "4")]
    assert set(hand.page.evaluate("window.kinds")) == {"pen"}


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


def test_a_circle_and_two_things_at_once_are_told_at_their_lines(
    opened: Opener, cast: Cast
) -> None:
    hand = Mouse(begun(opened, cast))
    lines = hand.page.locator("ol.lines > li")
    hand.does("screen")
    hand.moves("5", RIGHT_BLOCK)
    hand.does("cut")
    hand.moves("4", LEFT_BLOCK)
    lines.nth(0).locator("summary").first.click()
    hand.press("Wait until the 4 gets to the far block.")
    expect(lines.nth(0).locator(".error")).to_contain_text("wait for one another in a circle")
    expect(lines.nth(1).locator(".error")).to_contain_text("wait for one another in a circle")
    assert len(drafted().value().actions()) == 2
    hand.press("Undo")
    expect(hand.page.locator("ol.lines .error")).to_have_count(0)
    hand.moves("5", TOP)
    expect(hand.page.locator("#said")).to_contain_text("The 5 does this next")
    lines.nth(2).locator("summary").first.click()
    lines.nth(2).get_by_role("button", name="Wait for the signal.").click()
    expect(lines.nth(2).locator(".line-note")).to_contain_text("The 5 is still busy then")
    assert len(drafted().value().actions()) == 3


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
    ring = page.locator("#marks ellipse").bounding_box()
    assert ring
    assert abs(ring["width"] - ring["height"]) < 1.5  # round, on a photo that is wider than tall
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


# What is said while the ring moves two steps of the keys up the court from the left elbow.
SPOKEN = {
    "en": "a step above the left elbow",
    "es": "un paso por encima del codo izquierdo",
}


@pytest.mark.parametrize("code", sorted(SPOKEN))
def test_arrow_keys_say_the_place_in_words_of_the_trade(
    opened: Opener, cast: Cast, code: str
) -> None:
    begun(opened, cast)
    page = opened(reverse("draw-play", args=["box-hill"]), cast.keeper, locale=code)
    expect(page.locator("input[name=do]").first).to_be_enabled()
    Mouse(page).does("cut")
    page.locator("#drawn .piece[data-role='3']").focus()
    said = page.locator("#said")
    for _ in range(3):
        page.keyboard.press("ArrowDown")
    expect(said).to_have_text(SPOKEN[code])
    for key in ("ArrowRight", "ArrowDown", "ArrowDown", "ArrowRight", "Shift+ArrowLeft"):
        page.keyboard.press(key)
        assert not re.search(r"\d\.\d", said.text_content() or "")


@pytest.mark.parametrize(
    ("make", "more"),
    [(Mouse, {"size": WIDE}), (Finger, {"size": PHONE, "has_touch": True}), (Keys, {"size": WIDE})],
)
def test_looks_are_put_in_order_by_tapping_receivers_on_the_court(
    opened: Opener, cast: Cast, make: type[Hand], more: dict[str, Any]
) -> None:
    hand = make(begun(opened, cast, **more))
    hand.does("cut")
    hand.moves("4", NAIL)
    hand.moves("2", TOP)
    said = hand.page.locator("#said")

    def order() -> list[str]:
        return [look.receiver for look in drafted().value().looks]

    def tapped(role: str) -> None:
        if isinstance(hand, Keys):
            hand.to_court()
            hand.key(role)
        elif isinstance(hand, Finger):
            hand.page.evaluate("document.querySelector('#floor').scrollIntoView()")
            hand.tap(hand.stands(role))
        else:
            hand.page.mouse.click(*hand.at(hand.stands(role)))
        hand.settled()

    assert order() == ["4", "2"]
    hand.does("look")
    tapped("4")
    assert order() == ["2"]
    tapped("4")
    assert order() == ["2", "4"]
    tapped("3")
    expect(said).to_contain_text("Nothing is thrown to them yet")
    assert order() == ["2", "4"]
    hand.press("Undo")
    assert order() == ["2"]
