"""Somebody with a browser's memory for cookies, on whatever port of this machine."""

from __future__ import annotations

import re
import urllib.error
import urllib.request
from dataclasses import dataclass, field
from http.cookiejar import CookieJar
from typing import Any

from django.test.client import BOUNDARY, MULTIPART_CONTENT, encode_multipart

TOKEN = re.compile(r'name="csrfmiddlewaretoken" value="([^"]+)"')
ONCE = re.compile(r'name="once" value="([0-9a-f-]{36})"')
PATIENCE = 60.0


class _Stay(urllib.request.HTTPRedirectHandler):
    """A redirect is an answer, and not followed."""

    def redirect_request(self, *_: Any) -> None:
        return None


@dataclass
class Visitor:
    """Cookies know no port (RFC 6265, 8.5), so one jar serves every process of a site."""

    jar: CookieJar = field(default_factory=CookieJar)

    def get(self, address: str) -> tuple[int, str, str]:
        """Status, text and where it leads."""
        return self._ask(urllib.request.Request(address))

    def post(self, address: str, facts: dict[str, Any], page: str = "") -> tuple[int, str, str]:
        """Send a form with the token of the page that shows it."""
        shown = page or self.get(address)[1]
        token = TOKEN.search(shown)
        assert token, shown
        body = encode_multipart(BOUNDARY, {**facts, "csrfmiddlewaretoken": token[1]})
        headers = {"Content-Type": MULTIPART_CONTENT}
        return self._ask(urllib.request.Request(address, body, headers))

    def _ask(self, request: urllib.request.Request) -> tuple[int, str, str]:
        opener = urllib.request.build_opener(
            urllib.request.HTTPCookieProcessor(self.jar), _Stay, urllib.request.ProxyHandler({})
        )
        try:
            answer = opener.open(request, timeout=PATIENCE)
        except urllib.error.HTTPError as error:
            answer = error
        with answer:
            text = answer.read().decode("utf-8", "replace")
            return answer.status, text, answer.headers.get("Location", "")
