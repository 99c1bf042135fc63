"""A player's phone in the tests: their link is opened on it, as they would."""

from __future__ import annotations

from django.test import Client
from django.utils import timezone
from playwright.sync_api import Page

from roster.models import Player
from roster.squad.links import link_for, path_of_player


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
