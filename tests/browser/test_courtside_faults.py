"""What a phone's system and a stumbling server do to the courtside log, and how it goes on."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, Route, expect

from practice.models import HeldRep, Rep
from tests.browser.test_courtside import cut, forget_failed_sends, join, log_page, state, tap
from tests.cast import Cast

__all__ = ["log_page"]

# Every connection that the page opens is remembered, so that the test can shut it as the
# system does: without a word to the page, and with the event where it sends one.
WATCHED = """
const open = IDBFactory.prototype.open;
window.opened = [];
IDBFactory.prototype.open = function (...args) {
  const request = open.apply(this, args);
  request.addEventListener("success", () => window.opened.push(request.result));
  return request;
};
"""


@pytest.fixture
def watched(log_page: Callable[[], Page]) -> Page:
    page = log_page()
    page.context.add_init_script(WATCHED)
    page.reload()
    expect(page.locator("[data-log=page]")).to_be_visible()
    page.wait_for_function("window.opened.length > 0")
    return page


@pytest.mark.parametrize("told", [True, False])
def test_a_store_that_the_system_closes_is_opened_again(watched: Page, told: bool) -> None:
    tap(watched, "Clean")
    expect(state(watched)).to_have_text("All logged")
    watched.evaluate(
        """(told) => window.opened.forEach((db) => {
          db.close();
          if (told) db.dispatchEvent(new Event("close"));
        })""",
        told,
    )
    tap(watched, "Clean")
    tap(watched, "Undo")
    expect(state(watched)).to_have_text("All logged")
    expect(watched.locator("[data-log=total]")).to_have_text("1")
    expect(watched.locator("[data-log=note]")).to_be_hidden()
    assert Rep.objects.counted().count() == 1
    assert watched.evaluate("window.opened.length") >= 2


def test_what_waits_survives_a_closed_store_and_a_reload(watched: Page, faults: list[str]) -> None:
    cut(watched)
    tap(watched, "Clean")
    expect(state(watched)).to_have_text("1 waiting")
    watched.evaluate("window.opened.forEach((db) => db.close())")
    tap(watched, "Clean")
    expect(state(watched)).to_have_text("2 waiting")
    watched.reload()
    expect(state(watched)).to_have_text("2 waiting")
    join(watched)
    watched.evaluate("window.dispatchEvent(new Event('online'))")
    expect(state(watched)).to_have_text("All logged")
    forget_failed_sends(faults)


def test_full_is_said_of_a_full_phone_only_and_goes_away(watched: Page) -> None:
    fail = """(name) => { const put = window.put || IDBObjectStore.prototype.put; window.put = put;
      IDBObjectStore.prototype.put = name
        ? () => { throw new DOMException("no", name); } : put; }"""
    note = watched.locator("[data-log=note-text]")
    watched.evaluate(fail, "UnknownError")
    tap(watched, "Clean")
    expect(note).to_contain_text("keeps nothing for this page")
    watched.evaluate(fail, "QuotaExceededError")
    tap(watched, "Clean")
    expect(note).to_contain_text("storage is full")
    watched.evaluate(fail, "")
    tap(watched, "Clean")  # there is room again: what was in memory is written along
    expect(watched.locator("[data-log=note]")).to_be_hidden()
    expect(state(watched)).to_have_text("All logged")
    assert Rep.objects.count() == 3


def stumble(poison: list[str]) -> Callable[[Route], None]:
    """A server that fails at any batch with a tap of ``poison`` in it."""

    def handle(route: Route) -> None:
        taps = json.loads(route.request.post_data or "{}")["taps"]
        if any(one["id"] in poison for one in taps):
            route.fulfill(status=500, body="no")
        else:
            route.continue_()

    return handle


def test_one_poisonous_rep_costs_the_others_nothing_and_is_let_go(
    watched: Page, faults: list[str], tmp_path: Path, cast: Cast
) -> None:
    cut(watched)
    for _ in range(7):
        tap(watched, "Clean")
    expect(state(watched)).to_have_text("7 waiting")
    poison = [stored(watched)[3]["id"]]
    watched.route("**/taps/**", stumble(poison))  # goes before the one that cuts
    watched.evaluate("window.dispatchEvent(new Event('online'))")
    expect(state(watched)).to_have_text("1 waiting")
    expect(watched.get_by_text("stumbles over a rep")).to_be_visible()
    assert Rep.objects.count() == 6
    with watched.expect_download() as download:
        tap(watched, "Save what is stuck as a file and let it go")
    file = tmp_path / "stuck.json"
    download.value.save_as(file)
    assert [one["id"] for one in json.loads(file.read_text())["taps"]] == poison
    expect(state(watched)).to_have_text("All logged")
    assert poison[0] not in {one["id"] for one in stored(watched)}
    forget_failed_sends(faults)


def test_a_rep_that_the_server_refuses_is_shown_and_let_go(
    watched: Page, faults: list[str]
) -> None:
    cut(watched)
    for _ in range(3):
        tap(watched, "Clean")
    expect(state(watched)).to_have_text("3 waiting")
    spoil = """async (id) => {
      const store = window.opened[0].transaction("taps", "readwrite").objectStore("taps");
      await new Promise((done) => { store.get(id).onsuccess = ({ target }) => {
        const record = target.result;
        record.tap.mode = "flying";
        store.put(record).onsuccess = done; }; }); }"""
    watched.evaluate(spoil, stored(watched)[1]["id"])
    join(watched)
    watched.evaluate("window.dispatchEvent(new Event('online'))")
    expect(watched.get_by_text("does not take these reps")).to_be_visible()
    assert (Rep.objects.count(), HeldRep.objects.count()) == (2, 0)
    with watched.expect_download():
        tap(watched, "Save what is stuck as a file and let it go")
    expect(watched.locator("[data-log=note]")).to_be_hidden()
    assert {one["state"] for one in stored(watched)} == {"kept"}
    forget_failed_sends(faults)


def stored(page: Page) -> list[dict[str, Any]]:
    """The records in the phone's store, oldest first."""
    found: list[dict[str, Any]] = page.evaluate(
        """() => new Promise((done) => {
          const open = indexedDB.open("coachbook-taps", 1);
          open.onsuccess = () => {
            const rows = open.result.transaction("taps").objectStore("taps").getAll();
            rows.onsuccess = () => { open.result.close(); done(rows.result); };
          };
        })"""
    )
    return sorted(found, key=lambda record: record["made"])
