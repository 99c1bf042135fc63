"""The call sheet in a time-out: on a phone of 360 px, in a hall without a signal."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from practice.models import CalledPlay
from tests.browser.accessibility import assert_no_fault
from tests.browser.conftest import PHONE, WIDE, Opener
from tests.browser.test_courtside import wait_for
from tests.cast import Cast
from tests.practice.games.taps import today

THUMB = {"has_touch": True, "is_mobile": True}
KEPT = """async ([page, boards]) => {
  const pages = await caches.open("court-pages-1");
  const pictures = await caches.open("court-pages-drills-1");
  return Boolean(await pages.match(page)) && (await pictures.keys()).length === boards;
}"""

# At each tenth of a second: the largest share of a name under another name, a disc or outside the
# picture, where letters stand a fifth in from a line's head and foot; and how often a name has
# made room.
CROWDED = """() => {
  const stage = document.querySelector(".calls-floor .stage");
  const svg = stage.querySelector("svg");
  const time = stage.querySelector("[data-part=time]");
  const met = (a, b) => Math.max(0, Math.min(a.right, b.right) - Math.max(a.left, b.left))
    * Math.max(0, Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top));
  let worst = 0, moved = 0;
  for (let at = 0; at <= Number(time.max); at += 0.1) {
    time.value = at;
    time.dispatchEvent(new Event("input"));
    const people = [1, 2, 3, 4, 5].map((role) => svg.querySelector(`[data-mover="${role}"]`));
    const discs = people.map((each) => each.querySelector("circle").getBoundingClientRect());
    const names = people.map((each) => {
      const text = [...each.querySelectorAll("text")].at(-1);
      const disc = each.querySelector("circle");
      const under = text.y.baseVal[0].value > disc.cy.baseVal.value;
      moved += under && text.getAttribute("text-anchor") === "middle" ? 0 : 1;
      const { left, right, top, bottom, height } = text.getBoundingClientRect();
      return { left, right, top: top + height / 5, bottom: bottom - height / 5 };
    });
    names.forEach((name, at) => {
      const size = (name.right - name.left) * (name.bottom - name.top);
      const later = names.filter((_, other) => other > at);
      const others = [...later, ...discs.filter((_, other) => other !== at)];
      const outside = 1 - met(name, svg.getBoundingClientRect()) / size;
      worst = Math.max(worst, outside, ...others.map((other) => met(name, other) / size));
    });
  }
  return { worst, moved };
}"""


@pytest.fixture
def carries_two(cast: Cast) -> Cast:
    """A second play, which Ida and Pia know and in which others stand elsewhere."""
    today(cast)
    factories.CastingFactory.create(entry=cast.entry, role="1", depth=2, player=cast.players[6])
    entry = factories.PackagePlayFactory.create(
        team=cast.team, play=factories.published(demo_play("beacon")), call="Beacon {1}"
    )
    for role, at in zip("12345", (1, 0, 2, 3, 4), strict=True):
        factories.CastingFactory.create(entry=entry, role=role, player=cast.players[at])
    factories.CastingFactory.create(entry=entry, role="2", depth=2, player=cast.players[1])
    factories.CastingFactory.create(entry=entry, role="1", depth=2, player=cast.players[6])
    return cast


@pytest.fixture
def open_at(opened: Opener, carries_two: Cast) -> Callable[[str], Page]:
    def open_page(name: str) -> Page:
        path = reverse(name, args=[carries_two.game.pk])
        return opened(path, carries_two.assistant, PHONE, **THUMB)

    return open_page


def test_read_in_a_time_out_without_a_signal(
    open_at: Callable[[str], Page], carries_two: Cast, faults: list[str]
) -> None:
    """Only the log was opened before: the sheet and its boards are on the phone all the same."""
    sheet = reverse("call-sheet", args=[carries_two.game.pk])
    page = open_at("game-log")
    expect(page.locator(".game-play").first).to_be_visible()
    wait_for(lambda: page.evaluate(KEPT, [sheet, 2]))
    page.context.set_offline(True)
    page.get_by_role("link", name="Call sheet", exact=True).tap()
    expect(page.locator(".calls-line")).to_have_count(2)
    expect(page.locator("[data-calls=at]")).to_have_text(re.compile(r"^\d\d:\d\d$"))
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    boxes = [each.bounding_box() for each in page.locator("#content button:visible").all()]
    assert min(box["height"] for box in boxes if box) >= 44  # WCAG 2.5.5: 44 CSS pixels
    page.locator(".game-person", has_text="Ida").tap()
    page.get_by_role("dialog").get_by_role("button", name=re.compile("Pia")).tap()
    now = page.locator("[data-calls=who-lines] li")
    expect(now).to_have_text(
        [
            "Pia takes role 1 in every play.",
            "Noor goes from role 1 to role 2 in Beacon.",
        ]
    )
    page.get_by_role("button", name=re.compile("Beacon Pia")).tap()
    expect(page.locator("[data-calls=floor-of] svg [data-mover='2']")).to_contain_text("Noor")
    page.get_by_role("button", name="Next moment").tap()
    expect(page.locator(".stage-says")).not_to_be_empty()
    page.get_by_role("button", name=re.compile(r"^1\. ")).tap()
    expect(page.locator(".calls-still svg")).to_be_visible()
    faults.clear()  # what the browser says of a request without a signal


def test_a_swap_on_the_board_says_who_is_who_now_without_a_signal(
    open_at: Callable[[str], Page], carries_two: Cast, faults: list[str]
) -> None:
    page = open_at("call-sheet")
    expect(page.locator("[data-calls=state]")).to_be_visible()
    page.context.set_offline(True)
    page.get_by_role("button", name=re.compile("Beacon Noor")).tap()
    five = page.locator("[data-calls=five] button")
    expect(five).to_have_text(["1Noor", "2Ida", "3Ada", "4Mila", "5Zoë"])
    five.nth(1).tap()
    page.get_by_role("dialog").get_by_role("button", name=re.compile("Pia")).tap()
    expect(page.locator("[data-calls=call]")).to_have_text("Beacon Pia")
    expect(five).to_have_text(["1Pia", "2Noor", "3Ada", "4Mila", "5Zoë"])
    expect(page.locator(".is-new")).to_have_count(2)
    expect(page.locator("[data-calls=board-who-lines] li")).to_have_count(2)
    expect(page.locator("svg [data-mover='1']")).to_contain_text("Pia")
    five.nth(4).tap()  # nobody else knows role 5 of it
    page.get_by_role("dialog").get_by_role("button", name=re.compile("Runa.*not this play")).tap()
    said = "These five cannot run it: nobody here knows role 5."
    expect(page.locator("[data-calls=board-not]")).to_have_text(said)
    assert_no_fault(page, "call-sheet, a board that cannot be run")
    page.go_back()
    expect(page.locator(".calls-line")).to_have_count(1)  # Runa knows role 5 of the other one
    page.get_by_text("Not these").tap()
    expect(page.locator("[data-calls=not-lines]")).to_contain_text("nobody here knows role 5")
    faults.clear()


def test_the_board_leads_to_the_log_with_its_play_and_its_five(
    open_at: Callable[[str], Page], carries_two: Cast
) -> None:
    page = open_at("call-sheet")
    page.locator(".game-person", has_text="Ida").tap()
    page.get_by_role("dialog").get_by_role("button", name=re.compile("Pia")).tap()
    page.get_by_role("button", name=re.compile("Beacon Pia")).tap()
    page.get_by_role("link", name="Log it").tap()
    page.locator(".game-look").first.tap()
    page.get_by_role("button", name="2 points").tap()
    expect(page.locator("[data-log=state]")).to_have_text("All logged")
    logged = CalledPlay.objects.get()
    assert logged.entry.call == "Beacon {1}"
    assert {each.role: each.player.name for each in logged.roles.all()}["1"] == "Pia"
    page.get_by_role("link", name="Call sheet", exact=True).tap()
    expect(page.locator("[data-calls=floor]")).to_contain_text("Pia")


def test_an_occasion_is_one_tap_and_the_board_has_no_fault_wide(
    opened: Opener, carries_two: Cast
) -> None:
    page = opened(reverse("call-sheet", args=[carries_two.game.pk]), carries_two.head, WIDE)
    headings = page.locator("[data-calls=lines] h2")
    expect(headings).to_have_count(2)
    page.get_by_role("button", name="Right sideline").click()
    expect(headings).to_have_text(["Right sideline"])
    page.get_by_role("button", name=re.compile("Gangway")).click()
    expect(page.locator("[data-calls=floor-of] svg")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollHeight") <= WIDE["height"]
    assert_no_fault(page, "call-sheet, a board")
    page.get_by_role("button", name="Back to the call sheet").click()
    expect(headings).to_have_text(["Right sideline"])


def test_a_board_that_is_nowhere_is_told(
    opened: Opener, carries_two: Cast, faults: list[str]
) -> None:
    path = reverse("call-sheet", args=[carries_two.game.pk])
    page = opened(path, carries_two.assistant, PHONE, service_workers="block")
    page.route("**/boards/**", lambda route: route.abort())
    page.reload()
    page.locator(".calls-line").first.click()
    expect(page.get_by_text("This picture is not on this phone")).to_be_visible()
    expect(page.locator("[data-calls=five] button")).to_have_count(5)
    faults.clear()


def test_no_name_of_the_five_lies_under_the_bar_of_the_log(open_at: Callable[[str], Page]) -> None:
    page = open_at("game-log")
    expect(page.locator(".game-person")).to_have_count(5)
    gap = """() => document.querySelector(".log-thumb").getBoundingClientRect().top
      - Math.max(...[...document.querySelectorAll(".game-person, .log-role")].map(
        (each) => each.getBoundingClientRect().bottom))"""
    assert page.evaluate(gap) >= 0
    page.locator(".game-play").first.tap()
    expect(page.locator(".log-role")).to_have_count(5)
    assert page.evaluate(gap) >= 0


@pytest.mark.parametrize("size", [PHONE, {"width": 768, "height": 1024}, WIDE])
def test_names_on_a_crowded_board_stay_apart_in_full_and_after_a_swap(
    opened: Opener, carries_two: Cast, size: dict[str, int]
) -> None:
    """Tide begins in a box that closes up. An eighth of a name at most is hidden: our own limit."""
    entry = factories.PackagePlayFactory.create(
        team=carries_two.team, play=factories.published(demo_play("tidegate")), call="Tide"
    )
    for role, player in zip("12345", carries_two.players, strict=False):
        factories.CastingFactory.create(entry=entry, role=role, player=player)
    factories.CastingFactory.create(entry=entry, role="1", depth=2, player=carries_two.players[6])
    path = reverse("call-sheet", args=[carries_two.game.pk])
    page = opened(path, carries_two.assistant, size, reduced_motion="reduce")
    page.get_by_role("button", name=re.compile("^Tide")).click()
    expect(page.locator("svg [data-mover='1']")).to_contain_text("Ida")
    found = page.evaluate(CROWDED)
    assert found["moved"] > 0, "nobody stands close: this play is no test"
    assert found["worst"] < 1 / 8
    page.get_by_role("button", name="Full screen").click()
    page.wait_for_function("document.fullscreenElement !== null")
    assert page.evaluate(CROWDED)["worst"] < 1 / 8
    page.evaluate("document.exitFullscreen()")
    page.locator("[data-calls=five] button").first.click()
    page.get_by_role("dialog").get_by_role("button", name=re.compile("Pia")).click()
    expect(page.locator("svg [data-mover='1']")).to_contain_text("Pia")
    found = page.evaluate(CROWDED)
    assert found["moved"] > 0
    assert found["worst"] < 1 / 8
