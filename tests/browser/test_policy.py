"""Chromium keeps the policy that every page carries; a breach fails whatever test saw it."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser
from pytest_django.live_server_helper import LiveServer

from tests.browser.conftest import Opener
from tests.cast import Cast

# By what it tries: each adds to the page what an attacker would.
TRIES = {
    "a script": """() => {
        const script = document.createElement("script");
        script.textContent = "document.title = 'taken'";
        document.body.append(script);
    }""",
    "a handler": """() => {
        document.body.insertAdjacentHTML("beforeend", '<i onclick="document.title = 1">x</i>');
        document.body.lastChild.click();
    }""",
    "a style": """() => {
        document.body.insertAdjacentHTML("beforeend", '<b style="color: red">x</b>');
    }""",
    "a picture from elsewhere": """() => {
        document.body.append(Object.assign(new Image(), {src: "http://elsewhere.invalid/x.png"}));
    }""",
}


@pytest.mark.parametrize("what", TRIES)
def test_it_refuses_and_the_breach_is_collected(
    browser: Browser, live_server: LiveServer, cast: Cast, breaches: list[str], what: str
) -> None:
    """On a page that the test opens by itself, so that no fixture of ours watches it."""
    context = browser.new_context(base_url=live_server.url)
    page = context.new_page()
    page.goto("/sign-in/")
    title = page.title()
    page.evaluate(TRIES[what])
    page.wait_for_timeout(200)
    assert page.title() == title
    assert len(breaches) == 1, breaches
    assert "/sign-in/" in breaches[0]
    breaches.clear()
    context.close()


def test_no_page_of_the_account_breaks_it(opened: Opener, cast: Cast, breaches: list[str]) -> None:
    opened("/account/", cast.head).reload()
    assert breaches == []
