"""A person at a page, action by action: how many there are and how long they take.

The times are those of the keystroke-level model (Card, Moran and Newell, "The keystroke-level
model for user performance time with interactive systems", Communications of the ACM 23, 1980;
from memory): a key of an average typist 0.28 s, pointing 1.1 s, a hand from one device to the
other 0.4 s, making up one's mind 1.35 s. What the pages take is measured and added. How many taps
a phone's wheels for dates and times want is common practice, no source.
"""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Final

from playwright.sync_api import Locator, Page, expect

KEY: Final = 0.28  # seconds
POINT: Final = 1.1
HAND: Final = 0.4
MIND: Final = 1.35
DATE_TAPS: Final = 4  # open, month, day, set
TIME_TAPS: Final = 4  # open, hour, minutes, set


class Person:
    """Uses a page and counts: every press is an action, and so is every field that is gone to."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.actions, self.letters = 0, 0
        self.by_hand, self.by_pages = 0.0, 0.0

    @property
    def seconds(self) -> float:
        return self.by_hand + self.by_pages

    def told(self) -> str:
        return (
            f"{self.actions} actions and {self.letters} letters: {self.by_hand:.0f} s by hand,"
            f" {self.by_pages:.0f} s by pages, {self.seconds:.0f} s in all"
        )

    def press(self, name: str, kind: str = "link") -> None:
        """A link or a button that is in sight, by its words from their first."""
        words = re.compile(f"^{re.escape(name)}")
        found = self.page.get_by_role(kind, name=words).locator("visible=true").first  # type: ignore[arg-type]
        self._presses(found.click)

    def write(self, label: str, text: str) -> None:
        """Go to a field and type."""
        self._acts(1)
        self.letters += len(text)
        self.by_hand += 2 * HAND + KEY * len(text)
        self._field(label).fill(text)

    def choose(self, label: str, choice: str) -> None:
        """Open a list and press one of it, found with one more look."""
        self._acts(2)
        self._field(label).select_option(choice)

    def set_date(self, label: str, day: str) -> None:
        self._acts(DATE_TAPS)
        self._field(label).fill(day)

    def set_time(self, label: str, hour: str) -> None:
        self._acts(TIME_TAPS)
        self._field(label).fill(hour)

    def waits_for(self, what: Locator) -> None:
        """What comes by itself, such as the end of work in the background."""
        with self._measured():
            expect(what).to_be_visible(timeout=60_000)

    def prints(self) -> None:
        """The reader's print button, and yes."""
        self._acts(2)

    def _field(self, label: str) -> Locator:
        return self.page.get_by_label(label, exact=True)

    def _acts(self, times: int) -> None:
        self.actions += times
        self.by_hand += times * (MIND + POINT + KEY)

    def _presses(self, press: Callable[[], None]) -> None:
        self._acts(1)
        with self._measured():
            press()
            self.page.wait_for_load_state()

    @contextmanager
    def _measured(self) -> Iterator[None]:
        begun = time.monotonic()
        yield
        self.by_pages += time.monotonic() - begun
