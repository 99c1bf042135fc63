"""Every page, at three widths, light and dark: no fault that axe knows, no sideways scroll,
one face, and no size of type beside the scale."""

from __future__ import annotations

import pytest

from tests.browser.accessibility import faults_of
from tests.browser.conftest import WIDE, Opener
from tests.browser.typography import beside_scale, off_scale
from tests.cast import Cast
from tests.coachbook.test_access import TABLE, address

# Pages that a GET shows somebody; the rest are files, redirects or forms only.
FILES = {
    "shared-file",
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
    "paper",
    "playbook-file",
    "draw-photo-file",
    "player-data-file",
    "my-sheet-pdf",
    "my-motion",
    "my-worker",
    "bench-card",
    "call-board",
    "call-sheet-pdf",
    "cast-pdf",
    "drill-picture",
}
NOT_PAGES = FILES | {
    "drawn-play",
    "judged-play",
    "health",
    "log-worker",
    "edit-called",
    "called-films",
    "take-up",
    "sign-in-code",
    "second-step",
    "forgotten",
    "mail-address",
    "passkeys",
    "prove-mail",
    "sign-in-link",
    "set-up",
    "set-up-link",
}
PAGES = sorted(
    name for name, got in TABLE.items() if name not in NOT_PAGES and {200, 405} & set(got) != {405}
)


SIGNED_OUT = {"sign-in", "my-plays", "my-play", "my-quiz"}
CHUNKS = 12


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_no_page_has_a_fault(chunk: int, opened: Opener, cast: Cast) -> None:
    """One page after the other in one window, as whoever goes about the site sees them."""
    window, found = opened(address("help", cast), cast.runner), {}
    for name in PAGES[chunk::CHUNKS]:
        page = opened(address(name, cast)) if name in SIGNED_OUT else window
        if page is window:
            page.set_viewport_size(WIDE)  # type: ignore[arg-type]
            page.goto(address(name, cast))
        if said := [*faults_of(page), *beside_scale(page)]:
            found[name] = said
    assert found == {}


def test_words_beside_the_scale_are_found(opened: Opener, cast: Cast) -> None:
    page = opened(address("help", cast), cast.runner)
    assert off_scale(page) == {}
    page.locator("h1").evaluate("e => { e.style.fontSize = '19px' }")
    page.locator("main a").first.evaluate("e => { e.style.fontFamily = 'monospace' }")
    assert sorted(off_scale(page)) == ["16 monospace", "19 Coachbook Sans"]
