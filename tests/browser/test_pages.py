"""Every page, at three widths, light and dark: no fault that axe knows, no sideways scroll.

axe-core's rules follow WCAG 2.2 (levels A and AA); its version comes with
axe-playwright-python. 320 px is WCAG 2.2, 1.4.10 Reflow.
"""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

from tests.browser.conftest import Opener
from tests.cast import Cast
from tests.coachbook.test_access import TABLE, address

# Pages that a GET shows somebody; the rest are files, redirects or forms only.
FILES = {
    "feed",
    "plan-pdf",
    "check-motion",
    "play-file",
    "play-picture",
    "play-card",
    "library-file",
    "export-roster",
    "sheet-pdf",
    "sheets-pdf",
    "sheets-zip",
    "my-sheet-pdf",
    "bench-card",
    "cast-pdf",
}
NOT_PAGES = FILES | {
    "drawn-play",
    "health",
    "log-worker",
    "take-up",
    "sign-in-link",
    "set-up",
    "set-up-link",
}
PAGES = sorted(
    name for name, got in TABLE.items() if name not in NOT_PAGES and {200, 405} & set(got) != {405}
)
WIDTHS = (320, 360, 1280)
WCAG = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


@pytest.mark.parametrize("name", PAGES)
def test_a_page_has_no_fault(name: str, opened: Opener, cast: Cast) -> None:
    user = None if name in {"sign-in", "my-plays", "my-play"} else cast.runner
    page = opened(address(name, cast), user)
    for scheme in ("light", "dark"):
        # Without motion: half way through a change of colour no contrast can be told.
        page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 740})
            assert not sideways(page), f"{name} scrolls sideways at {width}"
            found = Axe().run(page, options=WCAG).response["violations"]
            said = [f"{v['id']}: {v['nodes'][0]['html'][:120]}" for v in found]
            assert not said, f"{name} {scheme} {width}: {said}"


def sideways(page: Page) -> bool:
    return bool(
        page.evaluate(
            "() => document.documentElement.scrollWidth > document.documentElement.clientWidth"
        )
    )
