"""Browsers that ask a real server, and what they measure."""

from __future__ import annotations

import gzip
import http.client
import statistics
import time
from dataclasses import dataclass, field
from typing import Final

from coachbook.benchmarks.courtside import TOKEN

KINDS: Final = ("a phone's page", "a page of the staff", "a rep logged")


@dataclass
class Meter:
    """Seconds of every answer by kind, and what went wrong."""

    took: dict[str, list[float]] = field(default_factory=lambda: {kind: [] for kind in KINDS})
    wrong: list[str] = field(default_factory=list)
    cpu: float = 0.0  # seconds of the server's process

    def clear(self) -> None:
        """What was asked for so far only warmed the site up."""
        for times in self.took.values():
            times.clear()


@dataclass
class Caller:
    """One browser: it keeps its connection, and knows the tags of pages that it has seen."""

    port: int
    cookie: str
    meter: Meter
    tags: dict[str, str] = field(default_factory=dict)
    link: http.client.HTTPConnection | None = None

    def ask(self, kind: str, path: str, body: str | None = None) -> bytes:
        """One request, measured; an answer that is no page counts as wrong."""
        headers = {"Cookie": self.cookie, "Accept-Encoding": "gzip"}
        if body is not None:
            headers |= {"Content-Type": "application/json", "X-CSRFToken": TOKEN}
        elif path in self.tags:
            headers["If-None-Match"] = self.tags[path]
        begun = time.perf_counter()
        try:
            answer, text = self._exchange(path, body, headers)
        except (OSError, http.client.HTTPException) as error:
            self.close()
            self.meter.wrong.append(f"{path}: {error!r}")
            return b""
        self.meter.took[kind].append(time.perf_counter() - begun)
        if answer.status not in (200, 304):
            self.meter.wrong.append(f"{path}: {answer.status}")
        self.tags[path] = answer.headers.get("ETag", "")
        return text

    def close(self) -> None:
        if self.link is not None:
            self.link.close()
            self.link = None

    def _exchange(
        self, path: str, body: str | None, headers: dict[str, str]
    ) -> tuple[http.client.HTTPResponse, bytes]:
        if self.link is None:
            self.link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=30)
        self.link.request("GET" if body is None else "POST", path, body, headers)
        answer = self.link.getresponse()
        return answer, answer.read()


def plain(text: bytes) -> bytes:
    """An answer as it was before it was packed for the way."""
    return gzip.decompress(text) if text[:2] == b"\x1f\x8b" else text


def middle_and_slow(took: list[float]) -> tuple[float, float]:
    """The median and the 95th percentile."""
    cuts = statistics.quantiles(took, n=100, method="inclusive")  # never beyond the slowest
    return cuts[49], cuts[94]
