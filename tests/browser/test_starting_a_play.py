"""Beginning a play on the one page for it: by keyboard alone, and with pictures that follow."""

from __future__ import annotations

import io

from django.urls import reverse
from PIL import Image, ImageDraw
from playwright.sync_api import FilePayload, expect

from plays.models import Play, Revision
from tests.browser.conftest import PHONE, Opener
from tests.browser.test_library import forgive_422
from tests.cast import Cast


def test_a_formation_is_chosen_by_keyboard_alone(opened: Opener, cast: Cast) -> None:
    page = opened(reverse("new-play"), cast.keeper)
    page.get_by_label("On the court").focus()
    page.keyboard.press("Tab")  # to the finished plays
    page.keyboard.press("Tab")
    page.keyboard.type("Low Tide")
    page.keyboard.press("Tab")
    page.keyboard.type("from the b")
    expect(page.locator("#id_edge")).to_have_value("baseline")
    for _ in ("ball side", "situation", "age", "formation"):
        page.keyboard.press("Tab")
    page.keyboard.press("ArrowRight")  # one radio group: WAI-ARIA authoring practices, radio group
    expect(page.get_by_label("Stack")).to_be_checked()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Draw Low Tide")
    value = Revision.objects.get(play__key="low-tide").value()
    assert value.formation.value == "stack"
    assert value.spot is not None
    assert value.spot.edge == "baseline"


def test_pictures_follow_the_side_and_nothing_typed_is_lost(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    page = opened(reverse("new-play"), cast.keeper, PHONE)
    page.get_by_label("Name of the play").fill("Half Typed")
    page.get_by_label("Diamond").check()
    before = page.locator("#formations svg").first.inner_html()
    page.get_by_label("Ball side").select_option("left")
    page.wait_for_function(
        "before => document.querySelector('#formations svg').innerHTML !== before", arg=before
    )
    expect(page.get_by_label("Diamond")).to_be_checked()
    page.get_by_label("From a play of ours").check()
    expect(page.get_by_label("Diamond")).to_be_hidden()
    page.get_by_role("button", name="Begin").click()
    expect(page.get_by_text("Choose the play to begin with.")).to_be_visible()
    expect(page.get_by_label("Name of the play")).to_have_value("Half Typed")
    page.get_by_label("On the court").check()
    expect(page.get_by_label("Diamond")).to_be_checked()
    forgive_422(faults)


def test_finished_plays_are_ticked_while_the_filter_changes(opened: Opener, cast: Cast) -> None:
    page = opened(reverse("starter-plays"), cast.keeper)
    page.get_by_label("Situation").select_option("baseline")
    expect(page.locator("[value=shoals]")).to_have_count(0)
    page.get_by_role("checkbox", name="Backwater").check()
    page.get_by_label("Situation").select_option("half_court")
    page.get_by_role("checkbox", name="Shoals").check()
    expect(page.get_by_role("checkbox", name="Backwater")).to_be_checked()
    page.get_by_role("button", name="Bring in what is ticked").click()
    expect(page.get_by_text("2 plays are brought in.")).to_be_visible()
    assert Play.objects.filter(key__in=("backwater", "shoals")).count() == 2


def paper() -> bytes:
    """A photo of 40 million pixels: a sheet with a half court on it, seen at a slant."""
    image = Image.new("RGB", (7300, 5500), "grey")
    sheet = ImageDraw.Draw(image)
    sheet.polygon([(700, 600), (6600, 800), (6900, 5000), (400, 4800)], "white", "black", 20)
    sheet.line([(1000, 4000), (4000, 2000)], "black", 30)
    out = io.BytesIO()
    image.save(out, "JPEG", quality=90)
    return out.getvalue()


def test_a_photo_comes_first_and_a_formation_is_placed_over_it(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    page = opened(reverse("new-play") + "?way=photo", cast.keeper, PHONE)
    page.get_by_label("Name of the play").fill("From Paper")
    field = page.get_by_label("Photo (JPEG, PNG or WebP)")
    field.set_input_files(FilePayload(name="notes.jpg", mimeType="image/jpeg", buffer=b"no photo"))
    page.get_by_role("button", name="Begin").click()
    expect(page.locator(".field-wrong")).to_contain_text("no whole JPEG, PNG or WebP picture")
    expect(page.get_by_label("Name of the play")).to_have_value("From Paper")
    field.set_input_files(FilePayload(name="board.jpg", mimeType="image/jpeg", buffer=paper()))
    page.get_by_role("button", name="Begin").click()
    photo = page.get_by_role("img", name="The photo that is traced")
    expect(photo).to_be_visible()
    page.reload()
    expect(photo).to_be_visible()
    box = photo.bounding_box()
    assert box
    for x, y in ((700, 600), (6600, 800), (6900, 5000), (400, 4800)):
        photo.click(position={"x": x / 7300 * box["width"], "y": y / 5500 * box["height"]})
    page.get_by_role("button", name="Lay it under the court").click()
    expect(page.locator(".traced image")).to_be_visible()
    page.locator("#what:enabled").wait_for()
    page.get_by_role("button", name="Diamond").click()
    expect(page.get_by_role("button", name="Diamond")).to_have_attribute("aria-pressed", "true")
    page.reload()
    expect(page.locator(".traced image")).to_be_visible()
    expect(page.get_by_role("button", name="Diamond")).to_have_attribute("aria-pressed", "true")
    value = Revision.objects.get(play__key="from-paper").value()
    assert value.formation.value == "diamond"
    forgive_422(faults)
