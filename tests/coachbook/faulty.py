"""Phones that go on sending while something happens to a real site, and what they are told."""

from __future__ import annotations

import http.client
import re
import sqlite3
import threading
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field

from coachbook.benchmarks.courtside import COOKIE, TOKEN, Hall, tap_body

NAMED = re.compile(r"[2-9A-Z]{4}-[2-9A-Z]{4}")  # a reference, wherever it stands
REFERENCE = re.compile(rf"<strong class=.whole.>({NAMED.pattern})</strong>")
PATIENCE = 30.0  # seconds


@dataclass(frozen=True)
class Answer:
    status: int
    text: str
    seconds: float

    @property
    def reference(self) -> str:
        found = REFERENCE.findall(self.text)
        assert len(found) == 1, self.text
        return str(found[0])


def ask(place: Hall, path: str, body: str | None = None, number: int = 0) -> Answer:
    """One request of a signed-in assistant. Raises OSError where nobody answers."""
    link = http.client.HTTPConnection("127.0.0.1", place.port, timeout=PATIENCE)
    headers = {
        "Content-Type": "application/json",
        "Cookie": f"{COOKIE}={place.facts['sessions'][number]}; csrftoken={TOKEN}",
        "X-CSRFToken": TOKEN,
    }
    begun = time.monotonic()
    try:
        link.request("POST" if body else "GET", path, body, headers)
        answer = link.getresponse()
        text = answer.read().decode()
    finally:
        link.close()
    return Answer(answer.status, text, time.monotonic() - begun)


@dataclass
class Phones:
    """What was acknowledged, by the tap's id, and every other answer."""

    place: Hall
    acknowledged: list[str] = field(default_factory=list)
    failed: list[Answer] = field(default_factory=list)
    unanswered: int = 0

    def send(self, number: int = 0) -> Answer:
        """One new rep; noted as acknowledged only where the answer names it."""
        key, body = tap_body(self.place.facts)
        address = f"/teams/{self.place.facts['team']}/taps/"
        answer = ask(self.place, address, body, number)
        if answer.status == 200 and key in answer.text:
            self.acknowledged.append(key)
        else:
            self.failed.append(answer)
        return answer

    def send_until(self, enough: Callable[[Answer], bool]) -> Answer:
        until = time.monotonic() + 2 * PATIENCE
        while time.monotonic() < until:
            if enough(answer := self.send()):
                return answer
        raise AssertionError(f"{len(self.acknowledged)} kept, {len(self.failed)} failed")

    @contextmanager
    def sending(self, phones: int = 4) -> Iterator[None]:
        """All phones send one rep after the other for as long as the block lasts."""
        ended = threading.Event()

        def one(number: int) -> None:
            while not ended.is_set():
                try:
                    self.send(number)
                except (OSError, http.client.HTTPException):
                    self.unanswered += 1

        threads = [threading.Thread(target=one, args=(number,)) for number in range(phones)]
        for thread in threads:
            thread.start()
        try:
            yield
        finally:
            ended.set()
            for thread in threads:
                thread.join()


def told_clearly(place: Hall, failed: list[Answer], words: str) -> None:
    """Every failure is a page in words, and the log says its reference with the reason."""
    assert failed
    assert place.log is not None
    told = defaultdict(list)
    for line in place.log.read_text("utf-8").splitlines():
        for reference in set(NAMED.findall(line)):
            told[reference].append(line)
    for answer in failed:
        assert answer.status == 503, answer
        assert f"<h1>{words}</h1>" in answer.text
        assert "Traceback" not in answer.text
        lines = told[answer.reference]
        assert lines  # two where what answers failed as well
        assert all("ERROR django.request" in line for line in lines)


def kept_in_file(place: Hall) -> set[str]:
    """The ids of the reps in the club's SQLite file, which is whole."""
    database = sqlite3.connect(place.data / "club.sqlite3")
    try:
        assert database.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        return {row[0] for row in database.execute("SELECT id FROM practice_rep")}
    finally:
        database.close()


def plain(keys: list[str]) -> set[str]:
    """As SQLite holds an id."""
    return {key.replace("-", "") for key in keys}


def is_well(place: Hall) -> bool:
    with suppress(OSError):
        return ask(place, "/health/").status == 200
    return False
