"""The cast, the five and coverage in the browser: tap, drag, switch, and what the bench loads."""

from __future__ import annotations

import re

from django.urls import reverse
from playwright.sync_api import Page, expect

from roster.models import CastProposal, Player
from tests.browser.conftest import PHONE, Opener
from tests.cast import Cast


def first_in(cast: Cast, role: str) -> str:
    return cast.entry.castings.select_related("player").get(role=role, depth=1).player.name


def place(page: Page, cast: Cast, role: int, depth: int = 1) -> str:
    return f"#slot-{cast.entry.pk}-{role}-{depth}"


def test_tap_a_name_and_choose_another(opened: Opener, cast: Cast) -> None:
    page = opened(reverse("cast", args=[cast.team.pk]), cast.head)
    page.click(place(page, cast, 1))
    dialog = page.locator("#chooser")
    expect(dialog.get_by_role("heading")).to_contain_text("role 1")
    dialog.get_by_role("button", name="Pia").click()
    expect(dialog).to_be_hidden()
    expect(page.locator(place(page, cast, 1))).to_contain_text("Pia")
    expect(page.locator(place(page, cast, 1))).to_be_focused()
    assert first_in(cast, "1") == "Pia"
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(place(page, cast, 1))).to_contain_text("Ida")


def test_by_keyboard_alone(opened: Opener, cast: Cast) -> None:
    page = opened(reverse("cast", args=[cast.team.pk]), cast.head)
    page.focus(place(page, cast, 2))
    page.keyboard.press("Enter")
    choice = page.locator("#chooser").get_by_role("button", name="Runa")
    expect(choice).to_be_visible()
    choice.focus()
    page.keyboard.press("Enter")
    expect(page.locator(place(page, cast, 2))).to_contain_text("Runa")
    page.keyboard.press("Enter")
    expect(page.locator("#chooser")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.locator("#chooser")).to_be_hidden()
    expect(page.locator(place(page, cast, 2))).to_be_focused()


def test_drag_a_name_onto_another_and_they_swap(opened: Opener, cast: Cast) -> None:
    page = opened(reverse("cast", args=[cast.team.pk]), cast.head)
    page.drag_and_drop(place(page, cast, 1), place(page, cast, 3))
    expect(page.locator(place(page, cast, 3))).to_contain_text("Ida")
    expect(page.locator(place(page, cast, 1))).to_contain_text("Ada")
    assert (first_in(cast, "1"), first_in(cast, "3")) == ("Ada", "Ida")


def test_two_coaches_at_once(opened: Opener, cast: Cast) -> None:
    address = reverse("cast", args=[cast.team.pk])
    hers, his = opened(address, cast.head), opened(address, cast.runner)
    for page, name in ((hers, "Pia"), (his, "Runa")):
        page.click(place(page, cast, 1))
        expect(page.locator("#chooser").get_by_role("button", name=name)).to_be_visible()
    hers.locator("#chooser").get_by_role("button", name="Pia").click()
    expect(hers.locator(place(hers, cast, 1))).to_contain_text("Pia")
    his.locator("#chooser").get_by_role("button", name="Runa").click()
    expect(his.get_by_text("nothing was overwritten")).to_be_visible()
    assert first_in(cast, "1") == "Pia"


def test_a_proposal_comes_in_while_the_page_stays_open(
    working: None, opened: Opener, cast: Cast
) -> None:
    Player.objects.filter(pk=cast.players[5].pk).update(passing=5, finishing=5, strength=5)
    page = opened(reverse("cast", args=[cast.team.pk]), cast.head)
    page.get_by_role("button", name="Propose a cast").click()
    expect(page.get_by_role("heading", name="Proposed cast")).to_be_visible()
    expect(page.get_by_text("Nothing better exists")).to_be_visible(timeout=60_000)
    expect(page.locator(".suggested").first).to_be_visible()
    page.get_by_role("button", name=re.compile("^Accept (all|the)")).click()
    expect(page.get_by_text("There is nothing left to change")).to_be_visible()
    page.get_by_role("button", name="Put away").click()
    expect(page.get_by_role("button", name="Propose a cast")).to_be_visible()
    assert CastProposal.objects.get().state == "closed"


def test_the_bench_with_one_thumb(opened: Opener, cast: Cast) -> None:
    page = opened(reverse("the-five", args=[cast.team.pk]), cast.assistant, PHONE, has_touch=True)
    expect(page.get_by_text("Can run 1 of 1")).to_be_visible()
    page.locator("label.pick", has_text="Runa").tap()
    way = page.get_by_role("link", name=re.compile("^Zoë then 1 of 1"))
    box = way.bounding_box()
    assert box is not None
    assert box["height"] >= 44
    way.tap()
    expect(page.get_by_text("Runa takes role 5 in Gangway Runa.")).to_be_visible()
    page.locator("label.pick", has_text="Mila").tap()
    expect(page.get_by_text("Pick one more.")).to_be_visible()
    page.locator("label.pick", has_text="Pia").tap()
    expect(page.get_by_text("Nobody here knows role 4.")).to_be_visible()
    page.reload()
    expect(page.get_by_text("Nobody here knows role 4.")).to_be_visible()
    targets = page.locator(".pick-face").evaluate_all(
        "faces => faces.map(face => Math.min(face.offsetWidth, face.offsetHeight))"
    )
    assert min(targets) >= 44


def test_the_bench_without_script(opened: Opener, cast: Cast) -> None:
    address = reverse("the-five", args=[cast.team.pk])
    page = opened(address, cast.assistant, PHONE, java_script_enabled=False)
    page.locator(f"#on-{cast.players[5].pk}").check(force=True)
    page.get_by_role("button", name="Show").click()
    page.get_by_role("link", name=re.compile("^Zoë")).click()
    expect(page.get_by_text("Runa takes role 5 in Gangway Runa.")).to_be_visible()


def test_the_bench_waits_for_no_font(opened: Opener, cast: Cast) -> None:
    """It has the one typeface, and is read in the device's own until that has come."""
    page = opened("about:blank", cast.assistant, PHONE)
    page.route("**/fonts/**", lambda _route: None)  # asked for, and never answered
    page.goto(reverse("the-five", args=[cast.team.pk]), wait_until="domcontentloaded")
    expect(page.get_by_role("heading", name="The five")).to_be_visible()
    faces = "[...document.fonts].map((each) => [each.family, each.display].join(' '))"
    assert set(page.evaluate(faces)) == {"Coachbook Sans swap"}
    family = "getComputedStyle(document.querySelector('.pick-name')).fontFamily"
    assert page.evaluate(family).startswith('"Coachbook Sans"')


def test_who_is_out_follows_without_a_reload(opened: Opener, cast: Cast) -> None:
    page = opened(reverse("coverage", args=[cast.team.pk]), cast.head)
    page.evaluate("window.stayed = true")
    expect(page.locator(".strip-percent")).to_contain_text("9 %")
    page.get_by_text("Suppose somebody is out").locator("visible=true").first.click()
    page.locator("label.choice", has_text="Ida").click()
    expect(page.get_by_text("nobody can run it")).to_be_visible()
    expect(page.locator(".strip-percent")).to_contain_text("0 %")
    assert page.evaluate("window.stayed")
    page.locator("label.choice", has_text="Ida").click()
    expect(page.locator(".strip-percent")).to_contain_text("9 %")
    page.locator(".sentence-lines summary").first.click()
    page.get_by_role("button", name=re.compile("^Put on the list")).first.click()
    expect(page.get_by_role("heading", name="To be taught")).to_be_visible()
