"""Headless Chromium against a live server, with an eye on what no page may do."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import (
    Browser,
    BrowserContext,
    ConsoleMessage,
    Page,
    Request,
    expect,
)
from pytest_django.live_server_helper import LiveServer

from shared.models import User
from tests import machine
from tests.cast import Cast, make_cast

# Playwright's own loop runs in this thread; Django would refuse the database without this.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"

# A busy machine may take its time; what never comes still fails.
expect.set_options(timeout=20_000)

PHONE = {"width": 360, "height": 740}
WIDE = {"width": 1280, "height": 800}

Opener = Callable[..., Page]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "tests/browser/" in str(item.path):
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def browser_type_launch_args() -> dict[str, Any]:
    """The Chromium of the system: playwright's own is not fetched."""
    found = machine.program("chromium")
    assert found, "the browser tests need Chromium: apt-get install chromium"
    quiet = ["--disable-gpu", "--disable-quic", "--disable-background-networking"]
    return {"executable_path": found, "args": ["--no-sandbox", *quiet]}


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    return make_cast()


@pytest.fixture
def faults() -> Iterator[list[str]]:
    """What pages did that they may not: console errors and requests to elsewhere."""
    found: list[str] = []
    yield found
    assert not found, found


@pytest.fixture(autouse=True)
def breaches(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """What the content security policy refused, on any page of any context, however opened."""
    found: list[str] = []
    real = Browser.new_context

    def on_console(said: ConsoleMessage) -> None:
        if "Content Security Policy" in said.text or "Permissions policy" in said.text:
            found.append(f"{said.page.url if said.page else 'a worker'}: {said.text}")

    def watched(browser: Browser, *args: Any, **more: Any) -> BrowserContext:
        context = real(browser, *args, **more)
        context.on("console", on_console)
        return context

    monkeypatch.setattr(Browser, "new_context", watched)
    yield found
    assert not found, found


@pytest.fixture
def opened(browser: Browser, live_server: LiveServer, faults: list[str]) -> Iterator[Opener]:
    """Opens a page: ``opened(path, user=None, size=WIDE, scheme="light", **context)``."""
    contexts: list[BrowserContext] = []

    def open_page(
        path: str,
        user: User | None = None,
        size: dict[str, int] = WIDE,
        scheme: str = "light",
        **more: Any,
    ) -> Page:
        context = browser.new_context(
            viewport=size,  # type: ignore[arg-type]
            color_scheme=scheme,  # type: ignore[arg-type]
            base_url=live_server.url,
            **more,
        )
        contexts.append(context)
        if user is not None:
            sign_in(context, live_server.url, user)
        page = context.new_page()
        watch(page, live_server.url, faults)
        page.goto(path)
        return page

    yield open_page
    for context in contexts:
        context.close()


def sign_in(context: BrowserContext, url: str, user: User) -> None:
    client = Client()
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    cookie = client.cookies[settings.SESSION_COOKIE_NAME]
    context.add_cookies([{"name": cookie.key, "value": cookie.value, "url": url}])


def watch(page: Page, url: str, faults: list[str]) -> None:
    """Write down every console error (a breach of the policy is one) and foreign request."""

    def on_request(request: Request) -> None:
        if not request.url.startswith((url, "data:", "blob:")):
            faults.append(f"request to {request.url}")

    page.on("request", on_request)
    page.on("pageerror", lambda error: faults.append(f"script: {error}"))
    page.on(
        "console",
        lambda said: faults.append(f"console: {said.text}") if said.type == "error" else None,
    )
