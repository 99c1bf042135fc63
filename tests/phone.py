"""A player's phone in the tests: their link is opened on it, as they would; and a new revision."""

from __future__ import annotations

from dataclasses import replace

from django.test import Client
from django.utils import timezone
from playwright.sync_api import Page

from plays.core.play import Point
from plays.library.changes import publish, save_draft
from roster.models import Player
from roster.squad.links import link_for, path_of_player
from tests.cast import Cast


def path(player: Player) -> str:
    """The address of the player's pages."""
    return path_of_player(link_for(player, timezone.now()))


def opened_by(client: Client, player: Player) -> str:
    """The same, once this client is the phone that the link belongs to."""
    address = path(player)
    assert client.post(f"{address}open/").status_code == 302
    return address


def press_open(page: Page) -> Page:
    """The link has been followed: this is the phone."""
    page.get_by_role("button", name="Open my plays here").click()
    page.wait_for_selector("h1:has-text('My plays'), h2:has-text('My plays'), .plays")
    return page


def moved_start(cast: Cast) -> None:
    """The keeper publishes a revision in which the 5 starts elsewhere, and the team takes it.

    Half a metre higher: still in the line, so that nobody else of it is told otherwise.
    """
    value = cast.play.published().value()
    starts = tuple(
        replace(each, at=Point(each.at.x, each.at.y + 0.5)) if each.role == "5" else each
        for each in value.starts
    )
    cast.entry.revision = publish(save_draft(cast.play, replace(value, starts=starts), None), None)
    cast.entry.save()
