"""An assistant's phone in the hall, whose server is a process of its own and may be killed."""

from __future__ import annotations

from collections.abc import Iterator

from playwright.sync_api import Browser, BrowserContext

from coachbook.benchmarks.courtside import COOKIE, Hall
from tests.browser.conftest import PHONE

# The page takes each tap as one second after the one before: five hundred would take minutes.
A_SECOND_LATER = "{ let now = 0; performance.now = () => (now += 1000); }"


def hall_phone(browser: Browser, place: Hall) -> Iterator[BrowserContext]:
    """The body of a fixture: signed in as the first of the hall's assistants."""
    made = browser.new_context(
        viewport=PHONE,  # type: ignore[arg-type]
        has_touch=True,
        is_mobile=True,
        base_url=place.url,
    )
    session = place.facts["sessions"][0]
    made.add_cookies([{"name": COOKIE, "value": session, "url": place.url}])
    made.add_init_script(A_SECOND_LATER)
    yield made
    made.close()
