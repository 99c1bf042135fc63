"""A play written in words in the browser: the picture follows, a fault leads to its line."""

from __future__ import annotations

from django.urls import reverse
from playwright.sync_api import Page, expect

from plays.models import Revision
from tests.browser.conftest import PHONE, Opener
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
    field = page.get_by_label("The play in words")
    field.press("Control+End")
    page.keyboard.insert_text(text)


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
    assert page.get_by_label("The play in words").input_value().endswith("2 cuts to the right slot")
    type_at_end(page, "\n  3 dances")
    fault = page.locator("#written [data-line]").first
    expect(page.locator("#written")).to_contain_text("“3 dances” is no action.")
    expect(page.locator("[data-marks] mark")).to_have_text("  3 dances")
    expect(page.locator("[data-line-fault]")).to_contain_text("“3 dances” is no action.")
    page.keyboard.press("ArrowUp")
    expect(page.locator("[data-line-fault]")).to_be_empty()
    fault.click()
    chosen = page.evaluate(
        "() => { const t = document.activeElement;"
        " return t.value.slice(t.selectionStart, t.selectionEnd); }"
    )
    assert chosen == "  3 dances"


def test_a_reload_loses_nothing(opened: Opener, cast: Cast) -> None:
    page = begun(opened, cast)
    type_at_end(page, "  2 cuts to the top")
    page.wait_for_function(
        "() => Object.values(localStorage).some((text) => text.endsWith('2 cuts to the top'))"
    )
    page.reload()
    page.get_by_role("button", name="Take it").click()
    assert page.get_by_label("The play in words").input_value().endswith("  2 cuts to the top")
    page.reload()
    page.get_by_role("button", name="Drop it").click()
    page.reload()
    expect(page.locator("#kept")).to_be_hidden()
