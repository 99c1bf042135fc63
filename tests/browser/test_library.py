"""The library in the browser: found while typing, moved by switches, brought in, published."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Collection
from dataclasses import replace
from pathlib import Path

from django.urls import reverse
from PIL import Image
from playwright.sync_api import Page, expect

from coachbook.demo.factories import published
from coachbook.demo.files import demo_play, demo_plays
from plays.core.document.file import to_json
from plays.core.play import Play as PlayValue
from plays.files.file import write_library
from plays.library.changes import publish, save_draft
from plays.models import Play
from tests.browser.accessibility import assert_no_fault
from tests.browser.conftest import PHONE, Opener
from tests.cast import Cast

GANGWAY, OAR = demo_play("gangway"), demo_play("oar-rack")


def names(page: Page) -> list[str]:
    return page.locator(".play-card h2").all_inner_texts()


def forgive_422(faults: list[str]) -> None:
    """A form with faults comes back as 422, which the console calls an error."""
    faults[:] = [fault for fault in faults if "422" not in fault]


def fill_library() -> None:
    for value in demo_plays():
        if value.key != "gangway":
            published(value)


def has_cards(page: Page, plays: Collection[PlayValue]) -> None:
    """The page shows the cards of exactly these plays, once it has come."""
    expect(page.locator(".play-card")).to_have_count(len(plays))
    assert sorted(names(page)) == sorted(play.name for play in plays)


def test_plays_are_found_while_typing(opened: Opener, cast: Cast) -> None:
    fill_library()
    plays = demo_plays()
    baseline = [play for play in plays if play.situation == "baseline"]
    page = opened(reverse("library"), cast.head)
    has_cards(page, plays)
    page.get_by_label("Words").press_sequentially("foghörn")
    expect(page.locator(".play-card")).to_have_count(1)
    assert names(page) == ["Foghorn"]
    expect(page).to_have_url(re.compile(r"text=fogh"))
    page.get_by_label("Words").fill("")
    has_cards(page, plays)
    page.get_by_label("Situation").select_option("baseline")
    has_cards(page, baseline)
    page.reload()
    has_cards(page, baseline)
    page.locator(".play-card").first.click()
    expect(page.get_by_role("heading", level=1)).to_have_text(min(play.name for play in baseline))


def test_plays_are_found_without_script(opened: Opener, cast: Cast) -> None:
    fill_library()
    plays = demo_plays()
    page = opened(reverse("library"), cast.head, PHONE, java_script_enabled=False)
    page.get_by_text("By situation, formation and more").click()
    page.get_by_label("Formation").select_option("stack")
    page.get_by_role("button", name="Find").click()
    has_cards(page, [play for play in plays if play.formation == "stack"])
    page.get_by_role("link", name="show all").click()
    has_cards(page, plays)


def test_the_cards_pictures_are_there_in_light_and_dark(opened: Opener, cast: Cast) -> None:
    page = opened(reverse("library"), cast.head)
    for scheme, ending in (("light", "card-light.svg"), ("dark", "card-dark.svg")):
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        image = page.locator(".play-card img")
        page.wait_for_function(
            "end => { const i = document.querySelector('.play-card img');"
            " return i.complete && i.naturalWidth > 0 && i.currentSrc.endsWith(end) }",
            arg=ending,
        )
        assert image.count() == 1


def test_switches_redraw_the_play_and_stay_in_the_address(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    page = opened(reverse("play", args=["gangway"]), cast.head)
    first = page.locator("#view .figures svg").first
    drawn = first.inner_html()
    page.get_by_text("See it another way").click()
    page.get_by_label("Mirrored").check()
    expect(page.locator("#view .note").first).to_contain_text("mirrored to the other side")
    assert first.inner_html() != drawn
    page.get_by_label("Names of").select_option(str(cast.team.pk))
    expect(first.locator("text", has_text="Ida").first).to_be_visible()
    page.get_by_label("Thrown in at, in metres").fill("99")
    page.get_by_label("Thrown in at, in metres").blur()
    expect(page).to_have_url(re.compile("along=99"))
    page.reload()
    expect(page.get_by_text("The sideline runs from 0 to 28.00 m.")).to_be_visible()
    forgive_422(faults)
    page.get_by_role("link", name="As it was drawn").click()
    assert page.locator("#view .figures svg").first.inner_html() == drawn


def test_a_picture_is_saved_as_seen(opened: Opener, cast: Cast) -> None:
    path = reverse("play", args=["gangway"]) + f"?team={cast.team.pk}"
    page = opened(path, cast.head, accept_downloads=True)
    page.get_by_label("Picture").select_option("phase-2")
    page.get_by_label("Size (PNG)").select_option("3")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save the picture").click()
    assert download.value.suggested_filename == "gangway-1-phase-2.png"
    image = Image.open(io.BytesIO(Path(download.value.path()).read_bytes()))
    assert image.width == 1080


def test_a_keeper_brings_in_a_file_and_publishes_it(
    opened: Opener, cast: Cast, faults: list[str], tmp_path: Path
) -> None:
    file = tmp_path / "plays.json"
    file.write_bytes(write_library([OAR, replace(GANGWAY, use="For the last minute.")]))
    page = opened(reverse("library"), cast.keeper, PHONE)
    page.get_by_role("link", name="New play").click()
    page.get_by_label("From a file").check()
    page.get_by_role("button", name="Begin").click()
    expect(page.get_by_text("Choose a file first.")).to_be_visible()
    page.get_by_label("File of plays (JSON)").set_input_files(file)
    page.get_by_role("button", name="Begin").click()
    expect(page.get_by_text("proposes a change")).to_be_visible()
    expect(page.get_by_text("new play", exact=True)).to_be_visible()
    page.get_by_role("button", name="Bring in what is ticked").click()
    expect(page.get_by_text("2 plays are brought in.")).to_be_visible()
    page.goto(reverse("play", args=["gangway"]))
    page.get_by_role("link", name="Look at it").click()
    page.get_by_role("button", name="Publish").click()
    expect(page.get_by_text("Published: this is the current one now.")).to_be_visible()
    expect(page.get_by_text("For the last minute.")).to_be_visible()
    forgive_422(faults)


def test_a_keeper_edits_words_and_keeps_a_moved_play(
    opened: Opener, cast: Cast, faults: list[str]
) -> None:
    page = opened(reverse("play", args=["gangway"]), cast.keeper)
    page.locator(".more > summary").click()
    page.get_by_role("link", name="Edit the words").click()
    page.get_by_role("textbox", name="Call", exact=True).first.fill("Gangway {9}")
    page.get_by_role("button", name="Save in the draft").click()
    expect(page.locator(".field-wrong")).to_contain_text("the roles are 1 to 5")
    page.get_by_role("textbox", name="Call", exact=True).first.fill("Plank {5}")
    page.get_by_role("button", name="Save in the draft").click()
    expect(page.get_by_text("Saved in the draft.")).to_be_visible()
    page.get_by_text("Discard", exact=True).click()
    page.get_by_role("button", name="Discard the draft").click()
    expect(page.get_by_text("The draft is discarded.")).to_be_visible()
    page.goto(reverse("play", args=["gangway"]) + "?mirror=on")
    page.get_by_role("link", name="Keep this as a play").click()
    page.get_by_label("Name of the new play").fill("Gangway left")
    page.get_by_role("button", name="Keep as a draft").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Gangway left")
    assert Play.objects.get(key="gangway-left").current is None
    forgive_422(faults)


def test_pages_with_more_on_them_have_no_fault(
    opened: Opener, cast: Cast, faults: list[str], tmp_path: Path
) -> None:
    """What the plain pages do not show: moved plays, drafts, comparisons, previews, faults."""
    publish(save_draft(cast.play, replace(GANGWAY, use="Two."), cast.keeper), cast.keeper)
    save_draft(cast.play, replace(GANGWAY, use="Three."), cast.keeper)
    bad = tmp_path / "bad.json"
    held = {**to_json(OAR), "formation": "triangle"}
    bad.write_text(json.dumps(held), "utf-8")
    page = opened(reverse("library"), cast.keeper)

    page.goto(reverse("play", args=["gangway"]) + f"?turn=on&along=0.2&team={cast.team.pk}")
    for summary in page.locator("details > summary").all():
        if summary.is_visible() and "menu" not in (
            summary.locator("..").get_attribute("class") or ""
        ):
            summary.click()
    assert_no_fault(page, "a moved play")
    page.goto(reverse("revision", args=["gangway", 3]))
    assert_no_fault(page, "a draft")
    page.goto(reverse("revisions", args=["gangway"]))
    assert_no_fault(page, "two revisions")
    page.goto(reverse("import-plays"))
    page.get_by_label("File of plays (JSON)").set_input_files(bad)
    page.get_by_role("button", name="Show what is in it").click()
    assert_no_fault(page, "faults of a file")
    forgive_422(faults)
