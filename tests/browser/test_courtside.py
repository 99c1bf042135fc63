"""The courtside log on a phone, with touch: what is tapped is kept, sent once, and shown."""

from __future__ import annotations

import json
import re
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.contrib.sessions.models import Session
from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import Error as PlaywrightError
from playwright.sync_api import Page, Route, expect

from coachbook.accounts.changes import new_link, path_of
from coachbook.demo import factories
from coachbook.demo.files import demo_play
from practice.models import HeldRep, Rep, Undo
from tests.browser.conftest import PHONE, Opener
from tests.cast import Cast

KEPT = "(async () => (await (await caches.open('court-pages-1')).keys()).length)()"
FULL = """() => { IDBObjectStore.prototype.put = () => {
    throw new DOMException("full", "QuotaExceededError"); }; }"""
THUMB = {"has_touch": True, "is_mobile": True}


@pytest.fixture
def log_page(opened: Opener, cast: Cast) -> Callable[[], Page]:
    path = reverse("log", args=[cast.practice.pk])

    def open_log() -> Page:
        page = opened(path, cast.assistant, PHONE, **THUMB)
        expect(page.locator("[data-log=page]")).to_be_visible()  # the script has taken over
        return page

    return open_log


def tap(page: Page, name: str) -> None:
    """A tap a second after the one before, as the page takes it."""
    page.evaluate("{ const later = performance.now() + 1000; performance.now = () => later; }")
    page.get_by_role("button", name=name, exact=True).tap()


def state(page: Page) -> Any:
    return page.locator("[data-log=state]")


def wait_for(what: Callable[[], bool], seconds: float = 10.0) -> None:
    end = time.monotonic() + seconds
    while not what():
        assert time.monotonic() < end, "it did not happen in time"
        time.sleep(0.05)


def cut(page: Page) -> None:
    """No signal: every send fails. (set_offline would also be told to the page.)"""
    page.route("**/taps/**", lambda route: route.abort())


def join(page: Page) -> None:
    page.unroute("**/taps/**")


def forget_failed_sends(faults: list[str]) -> None:
    faults[:] = [fault for fault in faults if "Failed to load resource" not in fault]


def test_forty_reps_in_four_minutes_by_one_thumb(log_page: Callable[[], Page]) -> None:
    page = log_page()
    box = page.get_by_role("button", name="Clean", exact=True).bounding_box()
    assert box is not None
    assert box["width"] * box["height"] > 100 * 180  # reached without looking
    assert box["y"] + box["height"] <= PHONE["height"]  # without scrolling
    begun = time.monotonic()
    taps = 0
    for number in range(40):
        if number % 4 == 3:
            tap(page, "Error")
            page.locator("[data-log=erred] button").nth(number % 5).tap()
            tap(page, ("Too late", "Wrong spot", "Pass")[number % 3])
            taps += 3
        else:
            tap(page, "Clean")
            taps += 1
    assert taps == 60  # 4 s a tap would do: 40 reps in 4 minutes
    assert time.monotonic() - begun < 60
    expect(state(page)).to_have_text("All logged")
    expect(page.locator("[data-log=total]")).to_have_text("40")
    expect(page.locator("[data-log=clean-count]")).to_have_text("30 of 40 clean")
    assert Rep.objects.counted().count() == 40
    assert Rep.objects.exclude(slip="").exclude(erred="").count() == 10


def test_a_role_is_swapped_with_two_taps(log_page: Callable[[], Page], cast: Cast) -> None:
    page = log_page()
    page.locator("[data-log=five] button").nth(1).tap()
    page.get_by_role("dialog").get_by_role("button", name=re.compile("Pia")).tap()
    expect(page.locator("[data-log=five] button").nth(1)).to_contain_text("Pia")
    page.locator("[data-log=five] button").nth(0).tap()
    page.get_by_role("dialog").get_by_role(
        "button", name=re.compile("Zoë")
    ).tap()  # trades with role 1
    tap(page, "Clean")
    expect(state(page)).to_have_text("All logged")
    five = dict(Rep.objects.get().roles.values_list("role", "player__name"))
    assert five == {"1": "Zoë", "2": "Pia", "3": "Ada", "4": "Mila", "5": "Ida"}


def test_a_thumb_that_bounces_logs_once_and_the_last_rep_stands_beside_undo(
    log_page: Callable[[], Page],
) -> None:
    page = log_page()
    page.evaluate("{ let now = 0; performance.now = () => (now += 150); }")  # ms between taps
    clean = page.get_by_role("button", name="Clean", exact=True)
    clean.tap()
    clean.tap()
    expect(state(page)).to_have_text("All logged")
    expect(page.locator("[data-log=total]")).to_have_text("1")
    undo, told = page.locator("[data-log=undo]"), page.locator("[data-log=undoes]")
    expect(told).to_contain_text("clean · Gangway")
    tap(page, "Error")
    expect(undo).to_be_visible()  # while the error's details are asked, too
    undo.tap()
    expect(page.get_by_role("button", name="Clean", exact=True)).to_be_visible()
    expect(page.locator("[data-log=total]")).to_have_text("1")
    expect(told).to_contain_text("clean · Gangway")
    expect(state(page)).to_have_text("All logged")
    assert (Rep.objects.count(), Rep.objects.counted().count()) == (2, 1)


def test_fives_and_units_are_one_tap_away_and_a_swap_lasts(
    log_page: Callable[[], Page], cast: Cast
) -> None:
    page = log_page()
    five = page.locator("[data-log=five] button")
    page.get_by_role("button", name="Second five", exact=True).tap()
    expect(five.nth(4)).to_contain_text("Runa")
    page.get_by_role("button", name="First five", exact=True).tap()
    five.nth(1).tap()
    page.get_by_role("dialog").get_by_role("button", name=re.compile("Pia")).tap()
    for unit in ("First", "First five"):
        page.get_by_role("button", name=unit, exact=True).tap()
        expect(five.nth(1)).to_contain_text("Pia")
    page.reload()
    expect(five.nth(1)).to_contain_text("Pia")


def test_what_was_tapped_without_signal_is_sent_later_once(
    log_page: Callable[[], Page], faults: list[str]
) -> None:
    page = log_page()
    cut(page)
    for _ in range(5):
        tap(page, "Clean")
    tap(page, "Undo")
    expect(state(page)).to_have_text("6 waiting")
    expect(page.get_by_text("No signal")).to_be_visible()
    expect(page.locator("[data-log=total]")).to_have_text("4")
    page.reload()
    expect(page.locator("[data-log=total]")).to_have_text("4")
    assert Rep.objects.count() == 0
    join(page)
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(state(page)).to_have_text("All logged")
    expect(page.locator("[data-log=total]")).to_have_text("4")
    assert (Rep.objects.count(), Rep.objects.counted().count(), Undo.objects.count()) == (5, 4, 1)
    forget_failed_sends(faults)


def test_the_call_is_one_tap_and_waits_with_its_rep(
    log_page: Callable[[], Page], cast: Cast, faults: list[str]
) -> None:
    tide = replace(demo_play("tidegate"), key="tide")
    entry = factories.PackagePlayFactory.create(
        team=cast.team, play=factories.published(tide, cast.keeper), call="Tide {2}"
    )
    for role, player in enumerate(cast.players[:5], start=1):
        factories.CastingFactory.create(entry=entry, role=str(role), player=player)
    page = log_page()
    calls = page.locator("[data-log=calls]")
    page.locator("#log-play").select_option(str(cast.entry.pk))
    expect(calls).to_be_hidden()
    page.locator("#log-play").select_option(str(entry.pk))
    cut(page)
    tap(page, "Clean")
    tap(page, "Tide Ada")
    tap(page, "Clean")
    tap(page, "Error")
    tap(page, "That is all")
    tap(page, "Tide Noor")
    expect(calls.get_by_role("button", name="Tide Noor")).to_have_attribute("aria-pressed", "true")
    tap(page, "Clean")
    expect(page.locator("[data-log=undoes]")).to_contain_text("Tide Noor")
    page.reload()
    expect(calls.get_by_role("button", name="Tide Noor")).to_have_attribute("aria-pressed", "true")
    join(page)
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(state(page)).to_have_text("All logged")
    said = Rep.objects.order_by("at").values_list("call", flat=True)
    assert list(said) == [None, "Tide {3}", "Tide {3}", ""]
    forget_failed_sends(faults)


def test_an_answer_that_is_lost_counts_nothing_twice(
    log_page: Callable[[], Page], faults: list[str]
) -> None:
    page = log_page()
    lost: list[int] = []

    def lose_first(route: Route) -> None:
        response = route.fetch()
        if len(lost) < 2:
            lost.append(response.status)
            route.abort()
        else:
            route.fulfill(response=response)

    page.route("**/taps/**", lose_first)
    tap(page, "Clean")
    expect(state(page)).to_have_text("All logged", timeout=10_000)
    assert len(lost) == 2
    assert Rep.objects.count() == 1
    expect(page.locator("[data-log=total]")).to_have_text("1")
    forget_failed_sends(faults)


def test_an_error_is_safe_before_its_details_are_tapped(log_page: Callable[[], Page]) -> None:
    page = log_page()
    tap(page, "Error")
    page.locator("[data-log=erred] button").nth(2).tap()
    expect(page.locator("[data-log=total]")).to_have_text("1")
    page.reload()  # the phone was put away
    expect(state(page)).to_have_text("All logged")
    rep = Rep.objects.get()
    assert (rep.is_clean, rep.erred, rep.slip) == (False, "3", "")


def test_signed_out_taps_wait_for_the_next_sign_in(
    log_page: Callable[[], Page], cast: Cast
) -> None:
    page = log_page()
    Session.objects.all().delete()
    tap(page, "Clean")
    expect(page.get_by_text("You are signed out")).to_be_visible()
    expect(state(page)).to_have_text("1 waiting")
    cast.assistant.set_password("assistant-word")
    cast.assistant.save()
    page.get_by_role("link", name="Sign in", exact=True).tap()
    page.get_by_label("Name", exact=True).fill("assistant")
    page.get_by_label("Password").fill("assistant-word")
    page.get_by_role("button", name="Sign in", exact=True).tap()
    expect(page).to_have_url(re.compile("/court/"))
    expect(state(page)).to_have_text("All logged")
    assert Rep.objects.count() == 1


def test_waiting_reps_are_handed_over_as_a_file(
    log_page: Callable[[], Page], cast: Cast, tmp_path: Path, faults: list[str]
) -> None:
    page = log_page()
    cut(page)
    for _ in range(3):
        tap(page, "Clean")
    expect(state(page)).to_have_text("3 waiting")
    with page.expect_download() as download:
        tap(page, "Hand over as a file")
    file = tmp_path / "waiting.json"
    download.value.save_as(file)
    assert len(json.loads(file.read_text())["taps"]) == 3
    with file.open("rb") as opened:
        cast.client(cast.head).post(reverse("held-reps", args=[cast.team.pk]), {"file": opened})
    assert Rep.objects.count() == 3
    join(page)
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(state(page)).to_have_text("All logged")
    assert Rep.objects.count() == 3
    forget_failed_sends(faults)


def test_a_full_or_blocked_storage_is_told(
    log_page: Callable[[], Page], cast: Cast, faults: list[str]
) -> None:
    page = log_page()
    page.evaluate(FULL)
    cut(page)
    tap(page, "Clean")
    expect(page.get_by_text("storage is full")).to_be_visible()
    expect(state(page)).to_have_text("1 waiting")
    join(page)
    tap(page, "Clean")
    wait_for(lambda: Rep.objects.count() == 2)
    blocked = page.context.new_page()
    blocked.add_init_script("Object.defineProperty(window, 'indexedDB', {value: undefined})")
    blocked.goto(page.url)
    expect(blocked.get_by_text("This browser keeps nothing")).to_be_visible()
    tap(blocked, "Clean")
    wait_for(lambda: Rep.objects.count() == 3)
    forget_failed_sends(faults)


def test_two_phones_log_at_once(opened: Opener, cast: Cast) -> None:
    path = reverse("log", args=[cast.practice.pk])
    one = opened(path, cast.assistant, PHONE, **THUMB)
    other = opened(path, cast.head, PHONE, **THUMB)
    for page in (one, other) * 4:
        tap(page, "Clean")
    for page in (one, other):
        expect(state(page)).to_have_text("All logged")
    tap(one, "Clean")
    expect(one.locator("[data-log=total]")).to_have_text("9")
    assert set(Rep.objects.values_list("logged_by__username", flat=True)) == {"assistant", "head"}


def test_the_page_opens_without_signal_and_goes_with_the_sign_out(
    log_page: Callable[[], Page], cast: Cast, faults: list[str]
) -> None:
    page = log_page()
    wait_for(lambda: page.evaluate(KEPT) == 1)
    page.context.set_offline(True)
    page.reload()
    tap(page, "Clean")
    expect(state(page)).to_have_text("1 waiting")
    page.context.set_offline(False)
    expect(state(page)).to_have_text("All logged")
    home = page.goto("/")
    assert home is not None
    assert home.ok
    page.locator(".menu > summary").tap()
    page.get_by_role("button", name="Sign out").tap()
    expect(page).to_have_url(re.compile("/sign-in/"))
    wait_for(lambda: not page.evaluate("caches.has('court-pages-1')"))
    faults[:] = [fault for fault in faults if "ERR_INTERNET_DISCONNECTED" not in fault]


def test_of_two_people_with_one_phone_neither_finds_the_others_pages(
    log_page: Callable[[], Page], cast: Cast, faults: list[str]
) -> None:
    """Arne is signed in still when Stig, of another team, opens his own link on that phone."""
    page = log_page()
    path = page.url
    for there in ("/", path):
        page.goto(there)
    wait_for(lambda: page.evaluate(KEPT) == 1)
    page.goto("/")
    assert page.evaluate("caches.has('court-pages-1')")  # it is his own home
    page.goto(path_of(new_link(cast.stranger, timezone.now())))
    page.get_by_role("button", name="Sign in").tap()
    expect(page).to_have_url(re.compile("/account/"))
    wait_for(lambda: not page.evaluate("caches.has('court-pages-1')"))
    page.context.set_offline(True)
    with pytest.raises(PlaywrightError, match="ERR_FAILED"):
        page.goto(path)
    page.context.set_offline(False)
    faults[:] = [fault for fault in faults if "net::ERR_" not in fault]


def test_a_drill_of_the_plan_is_told_and_shown_without_signal(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    """Its picture is kept before anybody has opened it, and goes with the sign-out."""
    factories.BlockFactory.create(practice=cast.practice, kind="skill", drill=cast.drill)
    page = opened(reverse("log", args=[cast.practice.pk]), cast.assistant, PHONE, **THUMB)
    expect(page.locator("[data-log=page]")).to_be_visible()
    wait_for(lambda: page.evaluate(KEPT) == 1)
    page.context.set_offline(True)
    page.reload()
    page.get_by_role("link", name="Drills").tap()
    page.get_by_text(f"How {cast.drill.name} goes").tap()
    expect(page.get_by_text("Two lines. Swap after each turn.")).to_be_visible()
    picture = page.get_by_role("img", name=f"Picture of {cast.drill.name}")
    picture.scroll_into_view_if_needed()
    wait_for(lambda: picture.evaluate("each => each.complete && each.naturalWidth > 0"))
    page.context.set_offline(False)
    page.goto("/")
    page.locator(".menu > summary").tap()
    page.get_by_role("button", name="Sign out").tap()
    expect(page).to_have_url(re.compile("/sign-in/"))
    wait_for(lambda: not page.evaluate("caches.has('court-pages-drills-1')"))
    faults[:] = [fault for fault in faults if "ERR_INTERNET_DISCONNECTED" not in fault]


def test_without_script_the_plain_form_logs(opened: Opener, cast: Cast) -> None:
    path = reverse("log", args=[cast.practice.pk])
    page = opened(path, cast.assistant, PHONE, java_script_enabled=False)
    page.get_by_role("button", name="Clean", exact=True).click()
    expect(page.get_by_role("status")).to_contain_text("logged")
    assert Rep.objects.get().roles.count() == 5


def test_on_plain_http_ids_are_made_by_hand(log_page: Callable[[], Page]) -> None:
    """RFC 9562: version 4 in the 13th digit, variant 8, 9, a or b in the 17th."""
    page = log_page()
    page.evaluate("() => { delete Crypto.prototype.randomUUID; }")
    assert page.evaluate("typeof crypto.randomUUID") == "undefined"
    for _ in range(5):
        tap(page, "Clean")
    expect(state(page)).to_have_text("All logged")
    ids = [str(pk) for pk in Rep.objects.values_list("pk", flat=True)]
    assert len(set(ids)) == 5
    assert all(re.fullmatch(r"[0-9a-f-]{14}4[0-9a-f]{3}-[89ab][0-9a-f-]{16}", each) for each in ids)


def test_the_next_play_of_the_plan_is_one_tap_away(opened: Opener, cast: Cast) -> None:
    other = factories.PackagePlayFactory.create(
        team=cast.team, play=factories.published(demo_play("sluice")), call="Lock"
    )
    for role, player in enumerate(cast.players[:5], start=1):
        factories.CastingFactory.create(entry=other, role=str(role), player=player)
    factories.BlockFactory.create(
        practice=cast.practice, kind="install", entry=other, mode="half_speed", unit=cast.unit
    )
    path = reverse("log", args=[cast.practice.pk])
    page = opened(path, cast.assistant, PHONE, **THUMB)
    expect(page.get_by_text("Block 1 of 2")).to_be_visible()
    expect(page.get_by_role("button", name="Live", exact=True)).to_have_attribute(
        "aria-pressed", "true"
    )
    tap(page, "Next play of the plan")
    expect(page.get_by_text("Block 2 of 2")).to_be_visible()
    tap(page, "Clean")
    expect(state(page)).to_have_text("All logged")
    rep = Rep.objects.get()
    assert (rep.entry, rep.mode, rep.unit) == (other, "half_speed", cast.unit)


def test_a_rep_for_a_play_dropped_meanwhile_is_kept_for_a_decision(
    log_page: Callable[[], Page], cast: Cast
) -> None:
    page = log_page()
    cast.entry.dropped_on = cast.practice.date
    cast.entry.save()
    tap(page, "Clean")
    expect(state(page)).to_have_text("1 kept for a decision")
    assert HeldRep.objects.count() == 1
    assert Rep.objects.count() == 0
