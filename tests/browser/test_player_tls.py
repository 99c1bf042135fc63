"""A player's pages over real TLS, by nginx and its file of the help pages, and then without signal.

Only the key of this test's certificate is believed; nothing else is relaxed, so that the phone's
cache works under the rules of a secure origin (Service Workers, W3C, "secure contexts").
"""

from __future__ import annotations

import base64
import subprocess
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Error, Playwright, expect

from coachbook.benchmarks.courtside import Hall
from tests.browser.conftest import PHONE
from tests.browser.test_courtside import wait_for
from tests.browser.test_player_walk import PLAYER_PAGES
from tests.coachbook.proxied import NAME, OPENSSL, Proxied, proxied_site
from tests.machine import needs
from tests.phone import press_open

LINK = """
from django.utils import timezone
from roster.models import Player
from roster.squad.links import link_for, path_of_player
print(path_of_player(link_for(Player.objects.filter(castings__isnull=False)[0], timezone.now())))
"""

pytestmark = [needs("nginx", "openssl"), pytest.mark.alone]


def fingerprint(certificate: Path) -> str:
    """SHA-256 of the public key (RFC 7469), as OpenSSL reads it."""
    made = subprocess.run(
        [str(OPENSSL), "x509", "-in", str(certificate), "-pubkey", "-noout"],
        check=True,
        capture_output=True,
    ).stdout
    for command in (["pkey", "-pubin", "-outform", "der"], ["dgst", "-sha256", "-binary"]):
        made = subprocess.run(
            [str(OPENSSL), *command], input=made, check=True, capture_output=True
        ).stdout
    return base64.b64encode(made).decode()


def phone_of(
    playwright: Playwright, folder: Path, launch: dict[str, Any], key: str
) -> BrowserContext:
    """A phone that finds the site by its name, and believes its certificate."""
    args = [*launch["args"], f"--host-resolver-rules=MAP {NAME} 127.0.0.1"]
    return playwright.chromium.launch_persistent_context(
        folder,
        executable_path=launch["executable_path"],
        args=[*args, f"--ignore-certificate-errors-spki-list={key}"],
        viewport=PHONE,  # type: ignore[arg-type]
    )


@pytest.fixture
def site(tmp_path: Path) -> Iterator[tuple[Proxied, str, ExitStack]]:
    """The site, a player's address in it, and what ends both at once."""
    folder = tmp_path / "site"
    folder.mkdir()
    tmp_path.chmod(0o755)
    hall = Hall(folder / "data", 0)
    hall.furnish()
    address = hall.run(LINK)
    with ExitStack() as going:
        made = going.enter_context(proxied_site(folder))
        yield made, f"https://{NAME}:{made.secure}{address}", going


def test_opened_once_by_https_it_is_read_without_signal(
    site: tuple[Proxied, str, ExitStack],
    playwright: Playwright,
    browser_type_launch_args: dict[str, Any],
    tmp_path: Path,
) -> None:
    proxied, address, going = site
    key = fingerprint(proxied.folder / "certificate.pem")
    context = phone_of(playwright, tmp_path / "phone", browser_type_launch_args, key)
    try:
        page = context.new_page()
        page.goto(address)
        assert page.evaluate("window.isSecureContext")
        press_open(page)
        wait_for(lambda: page.evaluate(PLAYER_PAGES) >= 2)
        going.close()  # the site and nginx are gone: no signal reaches anybody
        page.goto(address)
        page.locator(".plays a").first.click()
        expect(page.locator(".phase svg").first).to_be_visible()
        with pytest.raises(Error):
            page.goto(f"https://{NAME}:{proxied.secure}/sign-in/")  # never kept: it would be seen
    finally:
        context.close()
