"""Lines of the log, without what opens a page by itself, and with the reference of a failure."""

from __future__ import annotations

import logging
import re

# A nonce of 22 characters, a dot, and a signature: see shared/links.py. Half a signature is left
# out as well, because the rest of one can be tried.
TOKEN = re.compile(r"(?<![\w-])[\w-]{22}(?:\.|%2[eE])[\w-]+")
# The first page's token has a short name in place of the nonce.
FIRST_PAGE = re.compile(r"(?<=/set-up/)[^/\s\"']+")
LEFT_OUT = "[link]"
# Under this name a request that failed holds its reference.
REFERENCE = "coachbook.reference"


class WithoutLinks(logging.Formatter):
    """A formatter that leaves personal links out, also where a traceback quotes one."""

    def format(self, record: logging.LogRecord) -> str:
        return without_links(super().format(record))

    def formatMessage(self, record: logging.LogRecord) -> str:  # noqa: N802 - logging's name
        return super().formatMessage(record) + reference_in(record)


def reference_in(record: logging.LogRecord) -> str:
    """What the page of a failed request says too, so that one is found by the other."""
    facts = getattr(getattr(record, "request", None), "META", {})
    reference = facts.get(REFERENCE) if isinstance(facts, dict) else None
    return f" [reference {reference}]" if reference else ""


def without_links(text: str) -> str:
    return FIRST_PAGE.sub(LEFT_OUT, TOKEN.sub(LEFT_OUT, text))
