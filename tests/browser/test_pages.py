"""Every page, at three widths, light and dark: no fault that axe knows, no sideways scroll,
one face, and no size of type beside the scale."""

from __future__ import annotations

import pytest

from tests.browser.accessibility import assert_no_fault
from tests.browser.conftest import Opener
from tests.browser.typography import assert_in_scale, off_scale
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


@pytest.mark.parametrize("name", PAGES)
def test_a_page_has_no_fault(name: str, opened: Opener, cast: Cast) -> None:
    user = None if name in {"sign-in", "my-plays", "my-play", "my-quiz"} else cast.runner
    page = opened(address(name, cast), user)
    assert_no_fault(page, name)
    assert_in_scale(page, name)


def test_words_beside_the_scale_are_found(opened: Opener, cast: Cast) -> None:
    page = opened(address("help", cast), cast.runner)
    assert off_scale(page) == {}
    page.locator("h1").evaluate("e => { e.style.fontSize = '19px' }")
    page.locator("main a").first.evaluate("e => { e.style.fontFamily = 'monospace' }")
    assert sorted(off_scale(page)) == ["16 monospace", "19 Coachbook Sans"]
