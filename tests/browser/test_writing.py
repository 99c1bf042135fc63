"""A play written in words in the browser: the picture follows, a fault leads to its line."""

from __future__ import annotations

from itertools import pairwise

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from plays.models import Revision
from tests.browser.conftest import PHONE, WIDE, Opener
from tests.browser.test_large_text import CUT
from tests.cast import Cast

ENTRY = """\
  4 screens for 2 at the right block
  2 cuts to the right corner, when 4 is set
  3 cuts to the top
  5 posts up
looks:
  1 to 2 on 2's cut
"""


def begun(opened: Opener, cast: Cast, size: dict[str, int] | None = None) -> Page:
    return opened(reverse("write-play"), cast.keeper, **({"size": size} if size else {}))


def type_at_end(page: Page, text: str) -> None:
    field = page.get_by_role("textbox", name="The play in words")
    expect(page.locator(".lines-field")).to_be_visible()  # the script has its hand on the text
    field.press("Control+End")
    page.keyboard.insert_text(text)


def sent(page: Page) -> str:
    """What the form would send now."""
    return page.locator("textarea[name=text]").input_value()


def test_a_play_is_typed_drawn_and_kept(opened: Opener, cast: Cast) -> None:
    page = opened(reverse("new-play"), cast.keeper)
    page.get_by_label("In words").check()
    page.get_by_label("Name of the play").fill("Left Turn")
    page.get_by_label("Ball side").select_option("left")
    page.get_by_role("button", name="Begin").click()
    type_at_end(page, ENTRY)
    expect(page.locator("#written .strip-wide svg")).to_be_visible()
    expect(page.locator("#written")).to_contain_text("Every line is understood.")
    page.get_by_role("button", name="Keep as a draft").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Left Turn")
    assert Revision.objects.filter(play__key="left-turn", published_at=None).count() == 1
    page.goto(reverse("write-play"))
    expect(page.locator("#kept")).to_be_hidden()


def test_a_fault_leads_to_its_line_and_a_place_is_suggested(opened: Opener, cast: Cast) -> None:
    page = begun(opened, cast, PHONE)
    type_at_end(page, "  2 cuts to the right sl")
    fault = page.locator("#written [data-line]").first
    expect(fault).to_be_visible()
    page.locator("#suggested").get_by_role("button", name="right slot").click()
    assert sent(page).endswith("2 cuts to the right slot")
    type_at_end(page, "\n  3 dances")
    fault = page.locator("#written [data-line]").first
    expect(page.locator("#written")).to_contain_text("“3 dances” is no action.")
    expect(page.locator("[data-fault]")).to_have_text("  3 dances")
    expect(page.locator("[data-line-fault]")).to_contain_text("“3 dances” is no action.")
    page.keyboard.press("ArrowUp")
    expect(page.locator("[data-line-fault]")).to_be_empty()
    fault.click()
    assert page.evaluate("getSelection().toString()") == "  3 dances"


def test_a_reload_loses_nothing(opened: Opener, cast: Cast) -> None:
    page = begun(opened, cast)
    type_at_end(page, "  2 cuts to the top")
    page.wait_for_function(
        "() => Object.values(localStorage).some((text) => text.endsWith('2 cuts to the top'))"
    )
    page.reload()
    page.get_by_role("button", name="Take it").click()
    assert sent(page).endswith("  2 cuts to the top")
    page.reload()
    page.get_by_role("button", name="Drop it").click()
    page.reload()
    expect(page.locator("#kept")).to_be_hidden()


FAULTY = """\
  3 dances
  4 cuts to the top
  5 wins the game and everybody goes home happy in the rain
"""
# Rows of the text that somebody sees: where each stands, and where what it says ends.
ROWS = """() => [...document.querySelectorAll(".lines-field > div")].map((row) => {
    const box = row.getBoundingClientRect(), words = document.createRange();
    words.selectNodeContents(row);
    const said = getComputedStyle(row, "::after").content;
    return { top: box.top, bottom: box.bottom, text: row.textContent,
    words: words.getBoundingClientRect().bottom, wide: row.scrollWidth - row.clientWidth,
    said: said === "none" ? "" : said }; })"""


@pytest.mark.parametrize("size", [PHONE, WIDE])
@pytest.mark.parametrize("text", ["100%", "200%"])
def test_what_is_wrong_stands_under_its_line_and_moves_the_next_ones_down(
    opened: Opener, cast: Cast, size: dict[str, int], text: str
) -> None:
    page = begun(opened, cast, size)
    page.evaluate("size => { document.documentElement.style.fontSize = size; }", text)
    expect(page.locator("#written [data-line]").first).to_be_visible()
    assert page.locator("[data-fault]").count() == 0  # what is not written yet is no fault
    type_at_end(page, FAULTY)
    expect(page.locator("[data-fault]")).to_have_count(2)
    rows = page.evaluate(ROWS)
    for row, below in pairwise(rows):
        assert below["top"] >= row["bottom"] - 1
        assert row["wide"] <= 0
        assert bool(row["said"]) is (row["text"].strip()[:7] in ("3 dance", "5 wins "))
        if row["said"]:
            assert row["bottom"] - row["words"] > 10, "no row is kept for the sentence"
    first = next(row for row in rows if row["said"])
    assert "“3 dances” is no action." in first["said"]
    assert [each for each in page.evaluate(CUT) if "bar-home" not in each] == []


def test_a_fault_waits_until_the_hand_rests_and_a_screen_reader_is_told(
    opened: Opener, cast: Cast
) -> None:
    page = begun(opened, cast)
    page.evaluate(
        """() => { window.faulty = 0;
        new MutationObserver((all) => { for (const { target } of all) {
          if (target.dataset.fault && !target.nextElementSibling) window.faulty += 1;
        } }).observe(document.querySelector(".lines-field"),
        { subtree: true, attributeFilter: ["data-fault"] }); }"""
    )
    field = page.get_by_label("The play in words")
    field.press("Control+End")
    page.keyboard.type("  3 cuts to the top", delay=120)
    assert page.evaluate("window.faulty") == 0
    assert page.locator("[data-line-fault]").text_content() == ""
    page.keyboard.press("Enter")
    page.keyboard.type("  4 dan")
    told = page.locator("[data-line-fault][role=status]")
    expect(told).to_contain_text("“4 dan” is no action.")
    page.keyboard.press("Backspace")
    page.keyboard.press("ArrowUp")
    expect(told).to_be_empty()


def test_writing_keeps_its_keys(opened: Opener, cast: Cast) -> None:
    """Lines cut and joined, pasted, undone and redone, walked through past what is wrong."""
    page = begun(opened, cast)
    before = sent(page)
    type_at_end(page, "  3 dances\n  4 cuts to the top\n")
    expect(page.locator("[data-fault]")).to_have_count(1)
    for key in ("ArrowUp", "ArrowUp", "End"):
        page.keyboard.press(key)
    page.keyboard.type("!")
    assert sent(page) == f"{before}  3 dances!\n  4 cuts to the top\n"
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Home")
    page.keyboard.press("Backspace")
    assert sent(page) == f"{before}  3 dances!  4 cuts to the top\n"
    page.keyboard.press("Shift+Enter")
    assert sent(page) == f"{before}  3 dances!\n  4 cuts to the top\n"
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Shift+ArrowDown")
    page.keyboard.type("x")
    assert page.locator(".lines-field > div > :not(br)").count() == 0
    page.keyboard.press("Control+z")
    assert sent(page) == f"{before}  3 dances!\n  4 cuts to the top\n"
    page.keyboard.press("Control+z")
    assert "3 dances!" in sent(page)
    page.keyboard.press("Control+Shift+z")
    assert sent(page) == f"{before}  3 dances!\n  4 cuts to the top\n"
    page.keyboard.press("Control+a")
    page.keyboard.press("Control+x")
    assert sent(page) == ""
    page.keyboard.press("Control+v")
    assert sent(page) == f"{before}  3 dances!\n  4 cuts to the top\n"
    assert page.locator(".lines-field > :not(div)").count() == 0
    assert page.locator(".lines-field > div > :not(br)").count() == 0


def test_the_text_is_written_without_script_too(opened: Opener, cast: Cast) -> None:
    page = opened(reverse("write-play"), cast.keeper, java_script_enabled=False)
    page.get_by_label("The play in words").fill(f"{sent(page).replace('play: ', 'play: Plain')}\n")
    assert "play: Plain" in sent(page)


# What a browser lacks in which rows cannot be written: each by itself.
LACKING = (
    "delete InputEvent.prototype.getTargetRanges",
    "document.queryCommandSupported = () => false",
    "delete Selection.prototype.setBaseAndExtent",
    """Object.defineProperty(HTMLElement.prototype, "contentEditable",
       { get: () => "inherit", set: () => {} })""",
)


@pytest.mark.parametrize("lacking", LACKING)
def test_a_browser_that_cannot_write_in_rows_has_the_text_area(
    opened: Opener, cast: Cast, lacking: str
) -> None:
    """All of the page works on it: the picture, suggestions, faults that lead to their line."""
    page = begun(opened, cast)
    page.add_init_script(lacking)
    page.wait_for_load_state("networkidle")
    page.reload()
    field = page.get_by_label("The play in words")
    expect(page.locator("#written [data-line]").first).to_be_visible()
    assert page.locator(".lines-field").count() == 0
    before = field.input_value()
    field.press("Control+End")
    page.keyboard.insert_text("  3 dances\n  2 cuts to the right sl")
    page.locator("#suggested").get_by_role("button", name="right slot").click()
    assert field.input_value() == f"{before}  3 dances\n  2 cuts to the right slot"
    expect(page.locator("#written")).to_contain_text("“3 dances” is no action.")
    page.locator("#written [data-line][data-wrong]").first.click()
    start, end = field.evaluate("each => [each.selectionStart, each.selectionEnd]")
    assert field.input_value()[start:end] == "  3 dances"
    expect(page.locator("[data-line-fault]")).to_contain_text("“3 dances” is no action.")
    page.wait_for_load_state("networkidle")
    page.reload()
    expect(page.locator("#kept")).to_be_visible()
    page.get_by_role("button", name="Take it").click()
    assert field.input_value() == f"{before}  3 dances\n  2 cuts to the right slot"
    assert [each for each in page.evaluate(CUT) if "bar-home" not in each] == []
