"""Nothing drawn is lost: undo, a lost connection, a reload, a full device, a second window."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.urls import reverse
from playwright.sync_api import Route, expect

from plays.core.play import Point
from plays.models import Play, Revision
from tests.browser.conftest import Opener
from tests.browser.hands import (
    LEFT_BLOCK,
    NAIL,
    RIGHT_BLOCK,
    TOP,
    Mouse,
    begun,
    drafted,
)
from tests.cast import Cast

# Until the device takes no more.
FILL = """() => { let part = "x".repeat(1 << 20);
    for (let n = 0; part; ) {
      try { localStorage.setItem(`full-${n++}`, part); }
      catch { part = part.slice(1 + part.length / 2); }
    } }"""


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
    hand.drags("2", TOP)
    expect(page.locator("#said")).to_contain_text("Kept on this device")
    assert drafted().value().actions() == ()
    page.unroute("**/draw/")
    page.reload()
    hand.settled()
    assert [each.id for each in drafted().value().actions()] == ["2-cut"]
    assert all("ERR_FAILED" in fault for fault in faults)
    faults.clear()


def test_without_a_signal_people_move_on_the_device_and_the_server_catches_up(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    page = begun(opened, cast)
    hand = Mouse(page)
    behind = page.locator("#behind")

    hand.does("screen")
    page.context.set_offline(True)
    hand.drags("5", RIGHT_BLOCK)
    expect(behind).to_contain_text("No signal: go on drawing.")
    screener = hand.stands("5")
    assert abs(screener.x - (RIGHT_BLOCK.x - 0.8)) < 0.01  # short of the 4, as the ring showed
    hand.does("cut")
    hand.drags("4", LEFT_BLOCK)
    hand.drags("4", TOP)
    hand.drags("2", TOP)
    assert hand.stands("4") == TOP
    assert page.locator(".ahead text").all_text_contents() == ["5", "4", "4", "2"]
    page.get_by_role("button", name="Undo").click()  # it never left the device
    assert page.locator(".ahead text").all_text_contents() == ["5", "4", "4"]
    assert drafted().value().actions() == ()
    page.context.set_offline(False)
    hand.settled()
    kinds = [(each.role, each.kind.value) for each in drafted().value().actions()]
    assert kinds == [("5", "screen"), ("4", "cut"), ("4", "cut")]
    expect(behind).to_be_hidden()
    expect(page.locator(".ahead > *")).to_have_count(0)
    assert hand.stands("4") == TOP
    assert all("ERR_INTERNET_DISCONNECTED" in fault for fault in faults)
    faults.clear()


def test_a_full_device_is_told_and_the_step_still_gets_to_the_server(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    page = begun(opened, cast)
    page.evaluate(FILL)
    page.route("**/draw/", lambda route: route.abort())
    hand = Mouse(page)
    hand.does("cut")
    page.mouse.move(*hand.at(hand.stands("2")))
    page.mouse.down()
    page.mouse.move(*hand.at(TOP), steps=4)
    page.evaluate("""() => { window.said = []; const said = document.querySelector("#said");
        new MutationObserver(() => window.said.push(said.textContent)).observe(
        said, { childList: true }); }""")
    page.mouse.up()
    page.wait_for_function("() => window.said.some((each) => each.includes('This device is full'))")
    page.unroute("**/draw/")
    expect(page.locator("#drawn ol.lines")).to_contain_text("Cut to the top", timeout=20_000)
    assert [each.id for each in drafted().value().actions()] == ["2-cut"]
    assert all("ERR_FAILED" in fault for fault in faults)
    faults.clear()


def test_what_is_typed_and_not_sent_outlives_a_reload(opened: Opener, cast: Cast) -> None:
    page = begun(opened, cast)
    page.locator("summary", has_text="Name of this phase").click()
    title = page.get_by_role("textbox", name="Name of this phase")
    title.fill("Over the t")
    page.wait_for_function(
        "() => Object.keys(sessionStorage).some((each) => each.startsWith('coachbook-typed-'))"
    )
    page.reload()
    expect(title).to_have_value("Over the t")
    Mouse(page).press("Rename")
    expect(page.get_by_role("button", name="1. Over the t")).to_be_visible()
    page.reload()
    expect(page.get_by_role("button", name="1. Over the t")).to_be_visible()
    assert drafted().value().phases[0].title == "Over the t"


def test_a_second_window_is_told_and_chooses(opened: Opener, cast: Cast, faults: list[str]) -> None:
    page = begun(opened, cast)
    other = opened(reverse("draw-play", args=["box-hill"]), cast.keeper)
    first, second = Mouse(page), Mouse(other)
    for hand in (first, second):
        hand.does("cut")
    first.moves("2", TOP)
    second.drags("3", NAIL)
    expect(other.locator("#meanwhile")).to_contain_text("Somebody changed this play meanwhile.")
    assert [each.role for each in drafted().value().actions()] == ["2"]
    second.press("Do my steps on what stands there now")
    assert [each.role for each in drafted().value().actions()] == ["2", "3"]
    assert any("409" in fault for fault in faults)
    faults.clear()


def test_a_draft_that_is_published_meanwhile_is_told_and_drawn_on_as_a_new_one(
    opened: Opener, cast: Cast
) -> None:
    hand = Mouse(begun(opened, cast))
    hand.does("cut")
    for role, place in (("2", TOP), ("3", NAIL)):
        hand.moves(role, place)
    published = drafted().pk
    for role in "45":
        hand.press(f"{role} holds")
    keeper = cast.client(cast.keeper)
    answer = keeper.post(
        reverse("publish-draft", args=["box-hill", 1]), {"seen": drafted().content_hash}
    )
    assert answer.status_code == 302
    play = Play.objects.get(key="box-hill")
    assert play.current_id == published
    stays = drafted().content_hash
    hand.moves("5", Point(-4.5, 6.0))
    said = hand.page.locator("#said")
    expect(said).to_have_text("What is published stays as it is: this begins a new draft.")
    expect(hand.page.locator("#meanwhile")).to_be_hidden()
    hand.moves("4", Point(4.5, 6.0))
    expect(said).not_to_contain_text("new draft")
    kept = Revision.objects.get(pk=published)
    assert kept.content_hash == stays
    draft = play.revisions.get(published_at=None)
    assert draft.number == 2
    assert [each.role for each in draft.value().actions()][-2:] == ["5", "4"]


def test_a_draft_that_is_gone_is_told_and_the_steps_stay_on_the_device(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    """Discarded in another window; before, it was taken for a lost signal and asked for ever."""
    page = begun(opened, cast)
    hand = Mouse(page)
    hand.does("cut")
    cast.client(cast.keeper).post(reverse("discard-draft", args=["box-hill", 1]))
    assert not Play.objects.filter(key="box-hill").exists()
    hand.drags("2", TOP)
    expect(page.locator("#meanwhile")).to_contain_text("This play is not here any more")
    expect(page.locator("#behind")).to_be_hidden()
    assert hand.stands("2") == TOP
    kept = page.evaluate("Object.keys(localStorage).filter(k => k.startsWith('coachbook-draw-'))")
    assert len(kept) == 1
    assert all("404" in fault for fault in faults)
    faults.clear()


def test_who_is_signed_out_meanwhile_signs_in_and_has_what_was_drawn(
    opened: Opener, cast: Cast
) -> None:
    page = begun(opened, cast)
    hand = Mouse(page)
    hand.does("cut")
    cookies: Any = page.context.cookies()
    page.context.clear_cookies(name=settings.SESSION_COOKIE_NAME)
    hand.drags("2", TOP)
    expect(page.locator("#meanwhile")).to_contain_text("sign in again and load this page anew")
    page.context.add_cookies(cookies)
    page.reload()
    hand.settled()
    assert [each.id for each in drafted().value().actions()] == ["2-cut"]


def test_a_counter_cannot_be_begun_too_quickly(opened: Opener, cast: Cast) -> None:
    """A double tap makes one, and what is drawn before the server has it is drawn in it."""
    page = begun(opened, cast)
    hand = Mouse(page)
    hand.does("cut")
    hand.moves("2", TOP)

    def late(route: Route) -> None:
        page.wait_for_timeout(250)
        route.continue_()

    page.route("**/draw/", late)
    page.get_by_role("button", name="They switch").dblclick()
    hand.drags("4", NAIL)
    hand.settled()
    value = drafted().value()
    assert [each.role for each in value.actions()] == ["2"]
    assert [[each.role for each in counter.add] for counter in value.counters] == [["4"]]
    page.get_by_role("button", name="as planned").click()
    page.get_by_role("button", name="What happens next").dblclick()
    hand.settled()
    assert len(drafted().value().phases) == 2
    hand.press("What happens next")
    assert len(drafted().value().phases) == 2
