"""Practice pages in a real browser: dragging, the running view."""

from __future__ import annotations

from datetime import timedelta

from django.urls import reverse
from django.utils import timezone
from playwright.sync_api import expect

from coachbook.demo import factories
from tests.browser.conftest import PHONE, Opener
from tests.browser.test_courtside import wait_for
from tests.cast import Cast


def test_a_block_is_dragged_to_another_place(opened: Opener, cast: Cast) -> None:
    for title in ("Two", "Three"):
        factories.BlockFactory.create(practice=cast.practice, title=title)
    page = opened(reverse("practice", args=[cast.practice.pk]), cast.head)
    grip = page.locator("[data-grip]").nth(2).bounding_box()
    first = page.locator("[data-block]").nth(0).bounding_box()
    assert grip is not None
    assert first is not None
    page.mouse.move(grip["x"] + 10, grip["y"] + 20)
    page.mouse.down()
    page.mouse.move(grip["x"] + 10, first["y"] + 40, steps=5)
    page.mouse.move(grip["x"] + 10, first["y"] + 2, steps=5)
    page.mouse.up()
    wait_for(lambda: [str(b) for b in cast.practice.blocks.all()] == ["Three", "Install", "Two"])
    expect(page.locator("[data-block]").first).to_contain_text("18:00")
    page.get_by_role("button", name="Move Three down").click()
    wait_for(lambda: [str(b) for b in cast.practice.blocks.all()] == ["Install", "Three", "Two"])


def test_the_running_view_follows_the_clock(opened: Opener, cast: Cast) -> None:
    start = timezone.localtime() - timedelta(minutes=3)
    cast.practice.date, cast.practice.start = start.date(), start.time().replace(microsecond=0)
    cast.practice.save()
    factories.BlockFactory.create(practice=cast.practice, title="Shooting", minutes=7)
    page = opened(reverse("court-now", args=[cast.practice.pk]), cast.assistant, PHONE)
    title = page.locator("[data-part=title]")
    expect(title).to_have_text("Install")
    expect(page.locator("[data-part=left]")).to_contain_text("6:")
    page.get_by_role("button", name="Next block now").click()
    expect(title).to_have_text("Shooting")
    page.reload()
    expect(title).to_have_text("Shooting")
    page.get_by_role("button", name="Back to the planned times").click()
    expect(title).to_have_text("Install")
