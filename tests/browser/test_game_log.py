"""A whole game on a phone: forty possessions, half of them in the dark, the server killed twice."""

from __future__ import annotations

import re
import sqlite3
import uuid
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from django.urls import reverse
from playwright.sync_api import Browser, BrowserContext, Page, expect

from coachbook.benchmarks.courtside import Hall, hall
from practice.models import CalledPlay
from tests.browser.accessibility import assert_no_fault
from tests.browser.conftest import PHONE, Opener
from tests.browser.hall_phone import hall_phone
from tests.cast import Cast
from tests.practice.games.taps import called, send, today
from tests.template import laid

GAME = 77  # a number that no practice of the hall has
KILLED_AFTER = {8, 26}
THUMB = {"has_touch": True, "is_mobile": True}


def with_game(place: Hall) -> Hall:
    """The hall's team has a game, and it is now."""
    now = datetime.now(UTC)
    database = sqlite3.connect(place.data / "club.sqlite3")
    (team,) = database.execute(
        "select team_id from practice_practice where id = ?", [place.facts["practice"]]
    ).fetchone()
    database.execute(
        "insert into practice_game (id, team_id, date, start, opponent, place, cancelled, sequence,"
        " changed_at) values (?, ?, ?, ?, 'Millbrook', '', 0, 0, ?)",
        [GAME, team, now.date().isoformat(), now.strftime("%H:%M:00"), now.isoformat()],
    )
    database.commit()
    database.close()
    return place


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Hall]:
    made = with_game(hall(laid(tmp_path)))
    made.start()
    yield made
    made.kill()


@pytest.fixture
def context(browser: Browser, place: Hall) -> Iterator[BrowserContext]:
    yield from hall_phone(browser, place)


def possession(page: Page, number: int) -> int:
    """Logs one; how many taps it took."""
    page.locator(".game-play").first.tap()
    taps = 1
    if number % 5 == 0:
        page.locator("[data-log=defences] button").nth(number % 4).tap()
        taps += 1
    if number % 7 == 0:
        page.get_by_role("button", name="Broken", exact=True).tap()
        page.locator("[data-log=five] button").nth(number % 5).tap()
        taps += 2
    else:
        page.locator(".game-look").first.tap()
        taps += 1
    page.locator("[data-log=results] button").nth(number % 8).tap()
    return taps + 1


def test_a_whole_game_with_the_server_killed_twice(place: Hall, context: BrowserContext) -> None:
    page = context.new_page()
    page.goto(f"/court/games/{GAME}/")
    expect(page.locator(".game-play").first).to_be_visible()
    expect(page.locator(".game-person")).to_have_count(5)
    taps = []
    for number in range(40):
        if number in KILLED_AFTER:
            place.kill()
        elif number - 9 in KILLED_AFTER:  # nine possessions into the dark
            place.start()
        elif number == 20:  # the tab is closed; what was shown is safe
            expect(page.locator("[data-log=total]")).to_have_text("20 called")
            page.close()
            page = context.new_page()
            page.goto(f"/court/games/{GAME}/")
        taps.append(possession(page, number))
    assert max(taps) <= 5
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("[data-log=state]")).to_have_text("All logged", timeout=40_000)
    expect(page.locator("[data-log=total]")).to_have_text("40 called")
    page.get_by_role("button", name="Undo", exact=True).tap()
    expect(page.locator("[data-log=total]")).to_have_text("39 called")
    expect(page.locator("[data-log=state]")).to_have_text("All logged", timeout=40_000)
    assert in_database(place) == (40, 40, 200, 195, 0)


def in_database(place: Hall) -> tuple[int, ...]:
    """Possessions, different ids among them, roles, what is summed of them, and reps."""
    database = sqlite3.connect(place.data / "club.sqlite3")
    found: tuple[int, ...] = database.execute(
        "select count(*), count(distinct id), (select count(*) from practice_calledrole),"
        " (select sum(count) from practice_repsum where game_id is not null),"
        " (select count(*) from practice_rep) from practice_calledplay"
    ).fetchone()
    database.close()
    return found


@pytest.fixture
def game_log(opened: Opener, cast: Cast) -> Callable[[], Page]:
    today(cast)

    def open_log() -> Page:
        page = opened(reverse("game-log", args=[cast.game.pk]), cast.assistant, PHONE, **THUMB)
        expect(page.locator(".game-play").first).to_be_visible()
        return page

    return open_log


def test_the_bouncing_thumb_logs_once_and_chooses_nothing(game_log: Callable[[], Page]) -> None:
    page = game_log()
    page.evaluate("{ let now = 9000; performance.now = () => (now += 100); }")  # ms between taps
    page.locator(".game-play").first.tap()
    page.locator(".game-look").first.tap()
    page.locator("[data-log=results] button").nth(2).tap()
    page.locator(".game-play").first.tap()  # the bounce
    expect(page.locator("[data-log=choose]")).to_be_visible()
    expect(page.locator("[data-log=state]")).to_have_text("All logged")
    expect(page.locator("[data-log=undoes]")).to_contain_text("2 points")
    assert CalledPlay.objects.count() == 1


def test_who_comes_on_is_in_the_next_possession(game_log: Callable[[], Page], cast: Cast) -> None:
    page = game_log()
    page.locator(".game-person", has_text="Ida").tap()
    page.get_by_role("dialog").get_by_role("button", name=re.compile("Pia")).tap()
    page.locator(".game-play").first.tap()
    page.get_by_role("button", name="No look taken", exact=True).tap()
    assert_no_fault(page, "game-log, a play chosen")
    page.get_by_role("button", name="Turnover", exact=True).tap()
    expect(page.locator("[data-log=state]")).to_have_text("All logged")
    five = set(CalledPlay.objects.get().roles.values_list("player__name", flat=True))
    assert five == {"Pia", "Noor", "Ada", "Mila", "Zoë"}


def test_the_form_of_a_possession_has_no_fault(opened: Opener, cast: Cast) -> None:
    today(cast)
    one = called(cast)
    send(cast, one)
    page = opened(reverse("edit-called", args=[cast.game.pk, uuid.UUID(one["id"])]), cast.head)
    assert_no_fault(page, "edit-called")
