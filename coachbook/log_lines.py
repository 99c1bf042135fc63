"""What the log says, without what opens a page by itself, and with the reference of a failure."""

from __future__ import annotations

import json
import logging
import re
import time
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any, Final

from django.http import HttpRequest, HttpResponse

# A nonce of 22 characters, a dot, and a signature: see shared/links.py. Half a signature is left
# out as well, because the rest of one can be tried.
TOKEN = re.compile(r"(?<![\w-])[\w-]{22}(?:\.|%2[eE])[\w-]+")
# The first page's token has a short name in place of the nonce; what proves a mail address has
# the address.
OTHERS = re.compile(r"((?<=/set-up/)|(?<=/account/mail/))[^/\s\"']+")
LEFT_OUT = "[link]"
# Under this name a request that failed holds its reference.
REFERENCE = "coachbook.reference"
# And under this one every request holds when it began, by a clock that nobody sets.
BEGAN: Final = "coachbook.began"
REQUESTS: Final = logging.getLogger("coachbook.requests")


class WithoutLinks(logging.Formatter):
    """A formatter that leaves personal links out, also where a traceback quotes one."""

    def format(self, record: logging.LogRecord) -> str:
        return without_links(super().format(record))

    def formatMessage(self, record: logging.LogRecord) -> str:  # noqa: N802 - logging's name
        return super().formatMessage(record) + reference_in(record)


def reference_in(record: logging.LogRecord) -> str:
    """What the page of a failed request says too, so that one is found by the other."""
    reference = _facts_of(record).get(REFERENCE)
    return f" [reference {reference}]" if reference else ""


class AsJson(logging.Formatter):
    """One object a line, for a machine that reads along; no secret in any of its texts.

    Of a request it has the method, the path without what was asked for, the status, how many
    milliseconds it took, and its reference where it failed.
    """

    def format(self, record: logging.LogRecord) -> str:
        said: dict[str, Any] = {
            "time": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname,
            "logger": record.name,
            "message": record.getMessage(),
            **_of_request(record),
            **getattr(record, "sign_in", {}),  # coachbook/accounts/sign_in_log.py
        }
        if record.exc_info:
            said["traceback"] = self.formatException(record.exc_info)
        # Each text by itself, since an escape before a link would hide where it begins.
        bare = {k: without_links(v) if isinstance(v, str) else v for k, v in said.items()}
        return json.dumps(bare)  # in ASCII, so that no line ends within a text


def _of_request(record: logging.LogRecord) -> dict[str, Any]:
    request = getattr(record, "request", None)
    if not isinstance(request, HttpRequest):
        return {}
    facts = request.META
    found = {
        "reference": facts.get(REFERENCE),
        "method": request.method,
        "path": request.path,
        "status": getattr(record, "status_code", None),
        "ms": round((time.monotonic() - facts[BEGAN]) * 1000) if BEGAN in facts else None,
    }
    return {name: value for name, value in found.items() if value is not None}


def _facts_of(record: logging.LogRecord) -> dict[str, Any]:
    facts = getattr(getattr(record, "request", None), "META", {})
    return facts if isinstance(facts, dict) else {}


class TimedRequests:
    """Write down each request once it is answered; as lines, the log keeps to what is wrong."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        request.META[BEGAN] = time.monotonic()
        response = self.get_response(request)
        known = {"request": request, "status_code": response.status_code}
        REQUESTS.info("answered", extra=known)
        return response


def without_links(text: str) -> str:
    return OTHERS.sub(LEFT_OUT, TOKEN.sub(LEFT_OUT, text))
