"""Every state that drawing can be in, at four widths, in both schemes and at twice the text size.

Nothing scrolls sideways, nothing is covered or cut off, and axe finds nothing. 320 px is WCAG 2.2,
1.4.10 Reflow; twice the text size is 1.4.4. ``COACHBOOK_SHOTS`` names a folder for pictures.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from coachbook.demo import factories
from coachbook.demo.files import demo_play
from plays.core.court.courts import court
from plays.core.play import Cue, Moment, RuleSet
from plays.editor.photo import straightened
from plays.models import Play, TracedPhoto
from shared.photos import plain_photo
from tests.browser.accessibility import assert_no_fault
from tests.browser.conftest import PHONE, WIDE, Opener
from tests.browser.hands import LEFT_BLOCK, NAIL, RIGHT_BLOCK, TOP, Mouse, begun
from tests.browser.test_drawing import board
from tests.browser.test_drawing_kept import FILL
from tests.browser.test_large_text import CUT, DOUBLE
from tests.cast import Cast
from tests.plays.core.samples import with_cues

SIZES = (320, 360, 768, 1280)
HALF = 2830  # pixels: what a phone showed before was 5,656 long
WAYS = ("court", "words", "copy", "photo", "file")

# What can be pressed and cannot be hit in its middle: by its tag, its words and what lies there.
COVERED = """() => [...document.querySelectorAll(
    "main :is(a, button, input, select, textarea, summary, [role=button], [role=textbox])")]
  .filter((each) => each.checkVisibility() && !each.closest("#floor") && !each.disabled)
  .flatMap((each) => {
    each.scrollIntoView({ block: "center" });
    const box = each.getClientRects()[0];
    if (!box || !box.width) return [];
    const there = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
    const free = there && (each.contains(there) || there.contains(each));
    return free ? [] : [`${each.tagName} ${each.textContent.trim().slice(0, 30)} under ${
      there?.tagName}.${there?.className}`];
  })"""


def holding(opened: Opener, cast: Cast, deed: str) -> tuple[Page, Mouse]:
    """A play that is begun, and a hand that has chosen what they do."""
    page = begun(opened, cast)
    hand = Mouse(page)
    hand.does(deed)
    return page, hand


def meanwhile(opened: Opener, cast: Cast) -> Page:
    """Two editors of one draft are told."""
    page = begun(opened, cast)
    other = opened(reverse("draw-play", args=["box-hill"]), cast.keeper)
    first, second = Mouse(page), Mouse(other)
    for hand in (first, second):
        hand.does("cut")
    first.moves("2", TOP)
    second.drags("3", NAIL)
    expect(other.locator("#meanwhile")).to_be_visible()
    return other


def full(opened: Opener, cast: Cast) -> Page:
    """The device takes no more."""
    page = begun(opened, cast)
    page.evaluate(FILL)
    hand = Mouse(page)
    hand.does("cut")
    page.route("**/draw/", lambda route: route.abort())
    hand.drags("2", TOP)
    expect(page.locator("#behind")).to_be_visible()
    expect(page.locator("#said")).to_contain_text("This device is full")
    return page


def away(opened: Opener, cast: Cast) -> Page:
    """No signal: what was drawn is shown by the device."""
    page, hand = holding(opened, cast, "cut")
    page.route("**/draw/", lambda route: route.abort())
    hand.drags("2", TOP)
    expect(page.locator("#behind")).to_be_visible()
    return page


def finished(opened: Opener, cast: Cast) -> Page:
    """A published play that is opened again, every section unfolded."""
    play = demo_play("gangway")
    late = with_cues(play, play.looks[0].action, Cue(Moment.SIGNAL, wait=4.5))
    factories.published(replace(late, key="late", name="Late"))
    page = opened(reverse("draw-play", args=["late"]), cast.keeper)
    expect(page.locator("#judged[data-banded]")).to_be_visible()
    for fold in page.locator("main details").all():
        fold.evaluate("each => { each.open = true; }")
    return page


def screening(opened: Opener, cast: Cast) -> Page:
    """A screen asks for whom."""
    page, hand = holding(opened, cast, "screen")
    hand.moves("5", RIGHT_BLOCK)
    page.locator("ol.lines summary").first.click()
    expect(page.get_by_role("group", name="For or to whom")).to_be_visible()
    return page


def passing(opened: Opener, cast: Cast) -> Page:
    """A pass waits for whom it goes to."""
    page, hand = holding(opened, cast, "cut")
    hand.moves("2", TOP)
    hand.does("pass")
    page.mouse.click(*hand.at(hand.stands("1")))
    expect(page.locator("#drawn .piece[data-role='1']")).to_have_attribute("aria-pressed", "true")
    return page


def countered(opened: Opener, cast: Cast) -> Page:
    """The defence does something, and somebody something else."""
    page, hand = holding(opened, cast, "cut")
    hand.moves("4", LEFT_BLOCK)
    hand.press("They switch")
    hand.moves("4", TOP)
    expect(page.get_by_text("Remove this counter")).to_be_visible()
    return page


def cutting(opened: Opener, cast: Cast) -> Page:
    """The menu of cuts, and what is done by name."""
    page = begun(opened, cast)
    Mouse(page).does("cut")
    page.get_by_text("By name, without touching the court").click()
    return page


def traced(opened: Opener, cast: Cast) -> Page:
    """A photo lies under the court."""
    page = begun(opened, cast)
    corners = [(0.1, 0.1), (0.9, 0.15), (0.95, 0.9), (0.05, 0.85)]
    plain = plain_photo(board())
    laid = straightened(plain, corners, court(RuleSet.FIBA))
    play = Play.objects.get(key="box-hill")
    TracedPhoto.objects.create(play=play, photo=plain, corners=corners, laid=laid)
    page.reload()
    expect(page.locator(".traced image")).to_be_visible()
    return page


def faulty_text(opened: Opener, cast: Cast) -> Page:
    """A play in words with faults under its lines."""
    page = opened(reverse("write-play"), cast.keeper)
    expect(page.locator(".lines-field")).to_be_visible()
    page.get_by_role("textbox", name="The play in words").press("Control+End")
    page.keyboard.insert_text("  3 dances\n  4 cuts to the top\n")
    expect(page.locator("[data-fault]")).to_be_visible()
    return page


STATES: dict[str, Callable[[Opener, Cast], Page]] = {
    each.__name__: each
    for each in (
        meanwhile,
        full,
        away,
        finished,
        screening,
        passing,
        countered,
        cutting,
        traced,
        faulty_text,
    )
}


# What is seen or said aloud and is an id of an action ("2-cut") or of a counter.
IDS = """() => {
  const said = [document.body.innerText];
  for (const each of document.querySelectorAll("[aria-label], [title], [alt], option")) {
    said.push(...["aria-label", "title", "alt"].map((name) => each.getAttribute(name)));
    said.push(each.label);
  }
  const ids = [...document.querySelectorAll("[data-line], [data-answer], [data-action]")]
    .flatMap(({ dataset }) => [dataset.line, dataset.answer, dataset.action])
    .filter((id) => id && id.includes("-"));
  return [...new Set(ids)].filter((id) => said.join("\\n").includes(id));
}"""


def walked(page: Page, name: str) -> None:
    assert page.evaluate(IDS) == [], f"{name} shows an id"
    for width in SIZES:
        page.set_viewport_size({"width": width, "height": 740})
        assert page.evaluate(COVERED) == [], f"{name} at {width}"
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        shot(page, f"{name}-{width}")
    assert_no_fault(page, name)
    page.emulate_media(color_scheme="dark")
    shot(page, f"{name}-1280-dark")
    page.evaluate(DOUBLE)
    for width in (PHONE["width"], WIDE["width"]):
        page.set_viewport_size({"width": width, "height": 740})
        found = [each for each in page.evaluate(CUT) if "bar-" not in each]
        assert found == [], f"{name} at twice the text size, {width}"


def shot(page: Page, name: str) -> None:
    folder = os.environ.get("COACHBOOK_SHOTS")
    if folder:
        page.evaluate("window.scrollTo(0, 0)")
        page.screenshot(path=Path(folder) / f"{name}.png", full_page=True)


@pytest.mark.parametrize("name", sorted(STATES))
def test_a_state_of_the_editor_has_no_fault(
    name: str, opened: Opener, cast: Cast, faults: list[str]
) -> None:
    walked(STATES[name](opened, cast), name)
    told = {"meanwhile": "409", "away": "ERR_FAILED", "full": "ERR_FAILED"}.get(name)
    faults[:] = [each for each in faults if not (told and told in each)]


@pytest.mark.parametrize("way", WAYS)
def test_a_way_to_begin_has_no_fault(way: str, opened: Opener, cast: Cast) -> None:
    page = opened(f"{reverse('new-play')}?way={way}", cast.keeper)
    walked(page, f"new-{way}")


def test_an_id_that_is_shown_would_be_found(opened: Opener, cast: Cast) -> None:
    """Where an id is written on the page on purpose, it is found."""
    page = screening(opened, cast)
    page.evaluate("document.querySelector('#said').textContent = 'after 5-screen'")
    assert page.evaluate(IDS) == ["5-screen"]


def test_the_court_is_half_as_long_on_a_phone_and_what_is_opened_stays_open(
    opened: Opener, cast: Cast
) -> None:
    factories.published(replace(demo_play("gangway"), key="long", name="Long"))
    page = opened(reverse("draw-play", args=["long"]), cast.keeper, PHONE)
    expect(page.locator("#judged[data-banded]")).to_be_attached()
    assert page.evaluate("document.documentElement.scrollHeight") <= HALF
    check = page.get_by_text("What the check says")
    lines = page.locator("ol.lines")
    there, later = check.bounding_box(), lines.bounding_box()
    assert there
    assert later
    assert there["y"] < later["y"]  # folded right under the court that it is about
    judged = page.locator("details:has(> [data-key='fold-check'])")
    assert judged.get_attribute("open") is None
    expect(judged.locator(".tally")).to_contain_text("warning")
    check.click()
    hand = Mouse(page)
    hand.does("cut")
    hand.moves("2", TOP)
    assert judged.get_attribute("open") is not None
    wide = opened(reverse("draw-play", args=["long"]), cast.keeper)
    expect(wide.locator("details:has(> [data-key='fold-check'])")).to_have_attribute("open", "")
