"""The courtside log at its worst: a link that fails at random, a server that is killed, tabs
that are closed, sends that are doubled. What the phone showed as logged is there, once."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, Route, expect

from coachbook.benchmarks.courtside import Hall, hall
from tests.browser.hall_phone import hall_phone
from tests.template import laid

REPS = 500
KILLED_AFTER = {60, 150, 240, 330, 420}
CLOSED_AFTER = {110, 285, 450}
CUT, LOST, DOUBLED = 0.2, 0.15, 0.2  # of the sends


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Hall]:
    made = hall(laid(tmp_path))
    made.start()
    yield made
    made.kill()


@pytest.fixture
def context(browser: Browser, place: Hall) -> Iterator[BrowserContext]:
    yield from hall_phone(browser, place)


def bad_link(seen: dict[str, int]) -> Callable[[Route], None]:
    """Cuts some sends off, loses some answers, sends some twice."""
    chance = random.Random(20_260_901)

    def handle(route: Route) -> None:
        draw = chance.random()
        try:
            if draw < CUT:
                seen["cut"] += 1
                route.abort()
            elif draw < CUT + LOST:
                route.fetch()
                seen["lost"] += 1
                route.abort()
            elif draw < CUT + LOST + DOUBLED:
                route.fetch()
                seen["doubled"] += 1
                route.fulfill(response=route.fetch())
            else:
                route.continue_()
        except Error:  # the server is dead, or the tab has gone meanwhile
            seen["dead"] += 1
            try:
                route.abort()
            except Error:
                return

    return handle


def open_log(context: BrowserContext, place: Hall) -> Page:
    page = context.new_page()
    page.goto(f"/court/{place.facts['practice']}/")
    expect(page.locator("[data-log=page]")).to_be_visible()  # the script has taken over
    expect(page.get_by_role("button", name="Clean", exact=True)).to_be_visible()
    return page


def middle(page: Page, name: str) -> tuple[float, float]:
    box = page.get_by_role("button", name=name, exact=True).bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_five_hundred_reps_are_five_hundred(place: Hall, context: BrowserContext) -> None:
    seen = dict.fromkeys(("cut", "lost", "doubled", "dead"), 0)
    context.route("**/taps/**", bad_link(seen))
    page = open_log(context, place)
    total = page.locator("[data-log=total]")
    spot = middle(page, "Clean")
    for number in range(1, REPS + 1):
        page.touchscreen.tap(*spot)
        if number in KILLED_AFTER:
            place.kill()
        elif number - 15 in KILLED_AFTER:  # fifteen reps into the dark
            expect(total).to_have_text(str(number))
            place.start()
        elif number in CLOSED_AFTER:
            expect(total).to_have_text(str(number))  # shown is safe
            page.close()
            page = open_log(context, place)
            total = page.locator("[data-log=total]")
            spot = middle(page, "Clean")
            expect(total).to_have_text(str(number))
    expect(total).to_have_text(str(REPS))
    context.unroute("**/taps/**")
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("[data-log=state]")).to_have_text("All logged", timeout=40_000)
    expect(total).to_have_text(str(REPS))
    assert min(seen.values()) > 0, seen
    assert in_database(place) == (REPS, REPS, 5 * REPS)


def in_database(place: Hall) -> tuple[int, int, int]:
    """Reps, different ids among them, and roles."""
    database = sqlite3.connect(place.data / "club.sqlite3")
    counts = "select count(*), count(distinct id), (select count(*) from practice_reprole)"
    found: tuple[int, int, int] = database.execute(f"{counts} from practice_rep").fetchone()
    database.close()
    return found
