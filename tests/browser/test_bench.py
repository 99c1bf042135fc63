"""The five and coverage at the bench of a hall without a signal."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from roster.models import Player
from tests.browser.conftest import PHONE, Opener
from tests.browser.test_courtside import wait_for
from tests.cast import Cast

HOUR = re.compile(r"^\d\d:\d\d$")
KEPT = """async name => {
  const store = await caches.open(name);
  return (await store.keys()).map(each => new URL(each.url).pathname);
}"""
# As if the server had made every kept page two days before.
TWO_DAYS_OLDER = """async () => {
  const store = await caches.open("court-pages-1");
  for (const key of await store.keys()) {
    const page = await store.match(key), headers = new Headers(page.headers);
    headers.set("date", new Date(Date.now() - 2 * 86400000).toUTCString());
    await store.put(key, new Response(await page.text(), { headers }));
  }
}"""


def kept(page: Page, name: str) -> list[str]:
    return page.evaluate(KEPT, name)  # type: ignore[no-any-return]


def supposes_out(page: Page, player: Player) -> None:
    page.locator("summary", has_text="Suppose somebody is out").click()
    page.locator("label", has=page.locator(f"#out-{player.pk}")).click()


def forget_lost_requests(faults: list[str]) -> None:
    """What the browser and htmx say of a request without a signal."""
    ours = ("ERR_INTERNET_DISCONNECTED", "htmx:sendError", "htmx:afterRequest")
    faults[:] = [fault for fault in faults if not any(each in fault for each in ours)]


def test_without_a_signal_the_page_says_that_it_is_of_the_five_before(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    page = opened(f"/teams/{cast.team.pk}/five/", cast.assistant)
    note = page.get_by_text("No signal: what stands below is of the five before, as of")
    expect(note).to_be_hidden()
    page.context.set_offline(True)
    page.locator(f"#on-{cast.players[4].pk}").uncheck(force=True)
    expect(note).to_be_visible()
    expect(note.locator("time")).to_have_text(re.compile(r"^\d\d:\d\d$"))
    page.context.set_offline(False)
    page.locator(f"#on-{cast.players[5].pk}").check(force=True)
    expect(page.get_by_role("heading", name="Gangway Runa")).to_be_visible()
    expect(note).to_be_hidden()
    faults.clear()  # what the browser and htmx say of a request without a signal


def test_the_five_opens_anew_without_a_signal_with_its_diagrams(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    path = f"/teams/{cast.team.pk}/five/"
    page = opened(path, cast.assistant, PHONE)
    wait_for(lambda: path in kept(page, "court-pages-1"))
    wait_for(lambda: len(kept(page, "court-pages-drills-1")) == 1)
    page.context.set_offline(True)
    page.goto(path)
    note = page.locator("[data-stale]")
    expect(note).to_be_visible()
    expect(note.locator("time")).to_have_text(HOUR)
    expect(page.get_by_role("heading", name="Gangway Zoë")).to_be_visible()
    page.get_by_role("heading", name="Gangway Zoë").click()
    picture = page.locator(".can picture img")
    picture.scroll_into_view_if_needed()
    wait_for(lambda: picture.evaluate("each => each.complete && each.naturalWidth > 0"))
    page.context.set_offline(False)
    page.goto(path)
    expect(page.get_by_role("heading", name="Gangway Zoë")).to_be_visible()
    expect(note).to_be_hidden()
    forget_lost_requests(faults)


def test_a_page_of_another_day_says_which(opened: Opener, cast: Cast, faults: list[str]) -> None:
    path = f"/teams/{cast.team.pk}/five/"
    page = opened(path, cast.assistant, PHONE)
    wait_for(lambda: path in kept(page, "court-pages-1"))
    page.evaluate(TWO_DAYS_OLDER)
    page.context.set_offline(True)
    page.goto(path)
    expect(page.locator("[data-stale] time")).to_have_text(
        re.compile(r"^\w{3},? \d{1,2} \w{3}, \d\d:\d\d$|^\w{3}, \w{3} \d{1,2}, \d\d:\d\d$")
    )
    forget_lost_requests(faults)


def test_coverage_says_that_its_figures_are_of_before_and_opens_without_a_signal(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    path = f"/teams/{cast.team.pk}/coverage/"
    page = opened(path, cast.head)
    wait_for(lambda: path in kept(page, "court-pages-1"))
    figure, note = page.locator(".big-figure strong"), page.locator("[data-stale]")
    before = figure.inner_text()
    expect(note).to_be_hidden()
    page.context.set_offline(True)
    supposes_out(page, cast.players[0])
    expect(note).to_be_visible()
    expect(note.locator("time")).to_have_text(HOUR)
    expect(figure).to_have_text(before)
    page.goto(path)
    expect(note).to_be_visible()
    expect(figure).to_have_text(before)
    page.context.set_offline(False)
    supposes_out(page, cast.players[1])
    expect(note).to_be_hidden()
    expect(figure).not_to_have_text(before)
    forget_lost_requests(faults)


@pytest.mark.parametrize("name", ["five", "coverage"])
def test_who_signs_out_takes_the_bench_pages_along(opened: Opener, cast: Cast, name: str) -> None:
    path = f"/teams/{cast.team.pk}/{name}/"
    page = opened(path, cast.assistant, PHONE)
    wait_for(lambda: path in kept(page, "court-pages-1"))
    page.locator(".menu > summary").click()
    page.get_by_role("button", name="Sign out").click()
    expect(page).to_have_url(re.compile("/sign-in/"))
    wait_for(lambda: not page.evaluate("caches.has('court-pages-1')"))
