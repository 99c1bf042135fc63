"""A player from the slip to "what changed", on a phone; and the same pages without signal."""

from __future__ import annotations

import io
import re

import zxingcpp
from django.urls import reverse
from PIL import Image
from playwright.sync_api import Page, expect

from roster.core.quiz.making import questions
from roster.models import QuizAnswer
from roster.squad.links import link_for
from shared.core.language import ENGLISH
from tests.browser.conftest import PHONE, WIDE, Opener
from tests.browser.test_courtside import KEPT, forget_failed_sends, wait_for
from tests.cast import Cast
from tests.phone import moved_start, path, press_open

PLAYER_PAGES = "(async () => (await (await caches.open('player-pages-1')).keys()).length)()"


def scanned(page: Page) -> str:
    """What a phone reads from the slip on the screen, by another decoder than drew it."""
    shot = page.locator(".qr").first.screenshot()
    (found,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(shot)))
    return str(found.text)


def watch(page: Page) -> None:
    """The animation, in which the own role moves and stands out."""
    page.get_by_role("link", name="Show it moving").click()
    expect(page.locator(".stage")).to_have_attribute("data-ready", "yes")
    own = page.locator("[data-mover='5']")
    before = own.get_attribute("transform")
    page.get_by_role("slider").fill("3")
    assert own.get_attribute("transform") != before
    expect(own).to_have_class(re.compile("is-own"))
    page.go_back()


def answer_two(page: Page, cast: Cast) -> None:
    """A question tapped on the court, wrongly, and one chosen."""
    page.get_by_role("link", name=re.compile("Questions")).click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Where do you start?")
    page.locator(".floor").tap(position={"x": 10, "y": 250})
    expect(page.get_by_role("status")).to_contain_text("Not quite.")
    expect(page.locator("figure svg")).to_be_visible()
    assert QuizAnswer.objects.get().metres
    page.get_by_role("link", name="Next question").click()
    second = questions(cast.play.published().value(), "5", {}, ENGLISH)[1]
    expect(page.get_by_role("heading", level=1)).to_have_text(
        second.asks.replace("the 4", "Mila (4)")
    )
    page.get_by_role("radio").nth(min(second.right)).check()
    page.get_by_role("button", name="Answer").click()
    expect(page.get_by_role("status")).to_be_visible()


def test_from_the_slip_to_what_changed(opened: Opener, cast: Cast, settings: object) -> None:
    settings.HALL_ADDRESS = "http://192.168.1.20:8000"  # type: ignore[attr-defined]
    coach = opened(reverse("link-cards", args=[cast.team.pk]), cast.head, WIDE)
    coach.get_by_role("button", name="Make missing links").click()
    expect(coach.locator(".qr").first).to_be_visible()
    ida = cast.players[0]
    assert scanned(coach) == f"http://192.168.1.20:8000{path(ida)}"
    expect(coach.get_by_role("button", name="Copy").first).to_be_visible()
    coach.get_by_role("button", name="Copy").first.click()
    expect(coach.get_by_role("button", name="Copied")).to_be_visible()

    zoe = cast.players[4]
    page = press_open(opened(path(zoe), size=PHONE, has_touch=True))
    other = opened("/sign-in/", size=PHONE)
    assert other.request.get(path(zoe)).status == 404  # another phone

    page.get_by_role("link", name=re.compile("Gangway Zoë .*yours")).click()
    expect(page.locator(".phase svg").first).to_be_visible()
    watch(page)

    answer_two(page, cast)

    page.goto(f"{path(zoe)}{cast.entry.pk}/5/")
    page.get_by_role("button", name="Got it").click()
    expect(page.locator("#got")).to_be_focused()
    expect(page.locator("#got")).to_contain_text("Your coach knows")
    page.get_by_role("link", name="Back to my plays").click()
    expect(page.locator(".plays")).to_contain_text("got it")
    moved_start(cast)
    page.reload()
    expect(page.locator(".plays")).to_contain_text("changed")
    head = page.get_by_role("region", name="New since you last said")
    expect(head).to_contain_text("Start")  # the 5 starts elsewhere, in the words of the sheet
    head.get_by_role("link", name="Gangway Zoë").click()
    expect(page.get_by_role("heading", name=re.compile("New since you last said"))).to_be_visible()
    page.get_by_role("button", name="Got it").click()
    page.get_by_role("link", name="Back to my plays").click()
    expect(page.locator(".plays")).to_contain_text("got it")
    expect(head).to_have_count(0)


def test_without_signal_the_plays_open_and_a_closed_link_takes_them_along(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    page = press_open(opened(path(cast.players[4]), size=PHONE))
    wait_for(lambda: page.evaluate(PLAYER_PAGES) >= 2)
    page.reload()
    page.context.set_offline(True)
    page.locator(".plays a").first.click()
    expect(page.locator(".phase svg").first).to_be_visible()
    page.get_by_role("link", name="My plays").click()
    expect(page.locator(".plays a")).to_have_count(1)
    page.context.set_offline(False)
    link_for(cast.players[4], cast.players[4].links.get().made_at).delete()
    page.reload()
    expect(page.get_by_role("heading", level=1)).to_have_text("This link opens nothing here")
    wait_for(lambda: page.evaluate(PLAYER_PAGES) == 0)
    forget_failed_sends(faults)


def test_a_players_link_in_the_coachs_browser_leaves_the_logs_pages(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    log = opened(reverse("log", args=[cast.practice.pk]), cast.head, PHONE)
    wait_for(lambda: log.evaluate(KEPT) == 1)
    address = path(cast.players[4])
    log.goto(address)
    expect(log.get_by_text("Gangway Zoë")).to_be_visible()
    wait_for(lambda: log.evaluate(PLAYER_PAGES) >= 2)
    log.goto(address[:-4] + "xyz/")  # a wrong link, too
    expect(log.get_by_role("heading", level=1)).to_have_text("This link opens nothing here")
    assert log.evaluate(KEPT) == 1
    log.context.set_offline(True)
    log.goto(reverse("log", args=[cast.practice.pk]))
    expect(log.locator("[data-log=page]")).to_be_visible()
    forget_failed_sends(faults)
