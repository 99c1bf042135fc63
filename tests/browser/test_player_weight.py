"""A player's pages weigh little: measured by Chromium itself, all assets included, compressed.

The limits are the product's own, with nothing in the phone's store: 60 kB for the first page, 25 kB
for each play, and the first paint within 2 s at 400 kbit/s on a phone four times slower than this
machine. The site runs with its static files collected and packed, as `start` serves them.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.test.testcases import LiveServerThread
from playwright.sync_api import Browser, expect

from coachbook import settings as the_sites
from tests.browser.conftest import PHONE, watch
from tests.cast import Cast
from tests.packages import carried
from tests.phone import path, press_open

FIRST, EACH = 60_000, 25_000  # bytes
SOON = 2_000  # milliseconds
SLOW = {
    "offline": False,
    "latency": 150,  # milliseconds
    "downloadThroughput": 50_000,  # bytes a second
    "uploadThroughput": 50_000,
}
PAINTED = "performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? 0"

# Of the demo club's plays, those with the most to draw: see them all by `manage.py demo`.
HEAVY = ("harbour-light", "sluice", "floodgate", "open-water")
NAMES = ("Łucja", "Şebnem", "Káťa", "Åse", "Zoë")


@pytest.fixture
def site(transactional_db: None, settings: Any, tmp_path: Path, faults: list[str]) -> Iterator[str]:
    """The address of the site with collected static files."""
    settings.STATIC_ROOT = tmp_path
    settings.STORAGES = the_sites.STORAGES
    settings.WHITENOISE_USE_FINDERS = False
    call_command("collectstatic", interactive=False, verbosity=0)
    server = LiveServerThread("localhost", static_handler=lambda app: app)  # type: ignore[arg-type]
    server.daemon = True
    server.start()
    server.is_ready.wait()
    assert server.error is None
    yield f"http://localhost:{server.port}"
    server.terminate()


class OwnPhone:
    """The phone that a player's link belongs to; each ``cold`` visit begins with an empty store."""

    def __init__(self, browser: Browser, site: str, first: str, faults: list[str]) -> None:
        self.browser, self.site, self.faults = browser, site, faults
        context = browser.new_context(viewport=PHONE, base_url=site)  # type: ignore[arg-type]
        page = context.new_page()
        page.goto(first)
        press_open(page)
        self.state = context.storage_state()
        context.close()

    def cold(self, address: str, shows: str) -> tuple[float, dict[str, float]]:
        """When the page was painted first, in ms, and what each address weighed in bytes.

        Headers included, as it came over the line: ``encodedDataLength`` of the Chrome DevTools
        Protocol, Network.loadingFinished.
        """
        context = self.browser.new_context(
            viewport=PHONE,  # type: ignore[arg-type]
            base_url=self.site,
            storage_state=self.state,
            service_workers="block",
        )
        page = context.new_page()
        watch(page, self.site, self.faults)
        tools = context.new_cdp_session(page)
        tools.send("Network.enable")
        tools.send("Network.setCacheDisabled", {"cacheDisabled": True})
        tools.send("Network.emulateNetworkConditions", SLOW)
        tools.send("Emulation.setCPUThrottlingRate", {"rate": 4})
        names: dict[str, str] = {}
        loaded: dict[str, float] = {}

        def named(event: dict[str, Any]) -> None:
            names[event["requestId"]] = event["response"]["url"]

        def done(event: dict[str, Any]) -> None:
            name = names.get(event["requestId"], event["requestId"])
            loaded[name.replace(self.site, "")] = event["encodedDataLength"]

        tools.on("Network.responseReceived", named)
        tools.on("Network.loadingFinished", done)
        page.goto(address, wait_until="networkidle")
        expect(page.locator(shows).first).to_be_visible()
        page.evaluate("document.fonts.ready")
        painted = page.evaluate(PAINTED)
        context.close()
        return painted, loaded


@pytest.fixture
def phone(site: str, browser: Browser, cast: Cast, faults: list[str]) -> OwnPhone:
    """The phone of a player whose team has names with rare letters: none costs another file."""
    for player, name in zip(cast.players, NAMES, strict=False):
        player.name = name
        player.save()
    return OwnPhone(browser, site, path(cast.players[4]), faults)


def kinds(loaded: dict[str, float], ending: str) -> list[str]:
    """The files of a kind, without what the content adds to their names."""
    found = [name.rsplit("/", 1)[1] for name in loaded if name.endswith(ending)]
    return sorted(name.split(".")[0] for name in found)


def test_the_first_page_is_light(phone: OwnPhone, cast: Cast) -> None:
    for play in HEAVY:
        carried(cast, play, 4)
    _, loaded = phone.cold(path(cast.players[4]), ".plays")
    assert 0 < sum(loaded.values()) < FIRST, loaded


@pytest.mark.alone
@pytest.mark.parametrize("more", ["", "sluice"])
def test_a_page_is_painted_soon(more: str, phone: OwnPhone, cast: Cast) -> None:
    first = path(cast.players[4])
    address = f"{first}{carried(cast, more, 4)}/4/" if more else first
    # The quickest of three: what else this machine does is not the phone's.
    visits = [phone.cold(address, "h1")[0] for _ in range(3)]
    assert 0 < min(visits) < SOON


@pytest.mark.parametrize("play", HEAVY)
def test_a_play_opened_cold_is_light(play: str, phone: OwnPhone, cast: Cast) -> None:
    own = f"{path(cast.players[4])}{carried(cast, play, 4)}/4/"
    shown = {"": ".phase svg", "?in=es": ".phase svg", "?eyes=own": ".phase svg"}
    shown |= {"moving/": "[data-ready=yes]", "quiz/": ".floor"}
    for more, shows in shown.items():
        _, loaded = phone.cold(own + more, shows)
        assert 0 < sum(loaded.values()) < EACH, (more, sum(loaded.values()), loaded)
        moves = more == "moving/"
        assert bool(kinds(loaded, ".js")) == moves
        both = ["inter-bold-phone", "inter-regular-phone"]
        # What moves, or has most to draw, goes without the bold letters.
        heaviest = play == "open-water" and more != "quiz/"
        faces = kinds(loaded, ".woff2")
        assert faces == both[1:] if moves or heaviest else faces in (both, both[1:])
