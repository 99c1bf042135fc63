"""The log as JSON: one object a line, each request with its time, and no secret in it."""

from __future__ import annotations

import io
import json
import logging
from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any

import pytest
from django.conf import settings as site
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from coachbook.environment import one_of
from coachbook.log_lines import REQUESTS, AsJson
from roster.squad import door
from tests.cast import Cast
from tests.coachbook.test_left_behind import paths

KNOWN = {"time", "level", "logger", "message", "reference", "method", "path", "status", "ms"}


@pytest.fixture
def log() -> Iterator[io.StringIO]:
    """What a console would show where the setting says JSON."""
    out = io.StringIO()
    handler = logging.StreamHandler(out)
    handler.setFormatter(AsJson())
    loggers, level = (REQUESTS, logging.getLogger("django.request")), REQUESTS.level
    REQUESTS.setLevel(logging.INFO)
    for each in loggers:
        each.addHandler(handler)
    yield out
    for each in loggers:
        each.removeHandler(handler)
    REQUESTS.setLevel(level)


def lines(log: io.StringIO) -> list[dict[str, Any]]:
    return [json.loads(line) for line in log.getvalue().splitlines()]


def test_each_request_has_its_line(cast: Cast, log: io.StringIO) -> None:
    before = timezone.now() - timedelta(seconds=1)
    cast.client(cast.head).get(reverse("roster", args=[cast.team.pk]) + "?search=secret-word")
    (line,) = lines(log)
    assert set(line) <= KNOWN
    assert before < datetime.fromisoformat(line["time"]) < timezone.now() + timedelta(seconds=1)
    assert (line["level"], line["method"], line["status"]) == ("INFO", "GET", 200)
    assert line["path"] == reverse("roster", args=[cast.team.pk])
    assert 0 <= line["ms"] < 60_000
    assert "secret-word" not in log.getvalue()


def test_no_link_is_in_it(cast: Cast, log: io.StringIO) -> None:
    for path in paths(cast):
        Client().get(path)
    assert log.getvalue().count("[link]") >= 3
    for path in paths(cast):
        assert path.strip("/").split("/")[1].removesuffix(".ics")[:30] not in log.getvalue()


def test_a_failure_has_the_reference_of_its_page_and_stays_one_line(
    cast: Cast, log: io.StringIO, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_facts: object) -> None:
        raise RuntimeError(f"first\n{secret}\u2028third")

    secret = paths(cast)[1].strip("/").split("/")[1]
    monkeypatch.setattr(door, "link_behind", broken)
    page = Client(raise_request_exception=False).get(paths(cast)[1])
    failed = next(line for line in lines(log) if "traceback" in line)
    assert failed["level"] == "ERROR"
    assert failed["status"] == 500
    assert failed["reference"] in page.content.decode()
    assert "RuntimeError: first\n[link]\u2028third" in failed["traceback"]
    assert {line["reference"] for line in lines(log)} == {failed["reference"]}


def test_lines_are_the_rule_and_another_word_stops_the_start(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    formatters: Any = site.LOGGING["formatters"]
    assert formatters["json"]["()"] == "coachbook.log_lines.AsJson"
    monkeypatch.delenv("COACHBOOK_LOG", raising=False)
    assert one_of("COACHBOOK_LOG", ("line", "json")) == "line"
    monkeypatch.setenv("COACHBOOK_LOG", "JSON")
    assert one_of("COACHBOOK_LOG", ("line", "json")) == "json"
