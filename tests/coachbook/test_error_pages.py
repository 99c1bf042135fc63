"""Error pages speak the reader's language, also the one for a fault of ours."""

from __future__ import annotations

import errno
import io
import logging
import re
import sqlite3
from typing import Any

import psycopg
import pytest
from django.db import OperationalError, ProgrammingError
from django.test import Client
from django.urls import reverse

from coachbook.log_lines import WithoutLinks
from roster.squad import door

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("speech", "said"),
    [("en", "This link opens nothing here"), ("es", "Este enlace no abre nada aquí")],
)
def test_a_link_that_opens_nothing(client: Client, speech: str, said: str) -> None:
    answer = client.get(reverse("my-plays", args=["x.y"]), headers={"accept-language": speech})
    assert answer.status_code == 404
    assert f"<h1>{said}</h1>" in answer.content.decode()


@pytest.mark.parametrize(("speech", "said"), [("en", "Something broke"), ("es", "Algo se ha roto")])
def test_a_fault_of_ours(monkeypatch: pytest.MonkeyPatch, speech: str, said: str) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("broken on purpose")

    monkeypatch.setattr(door, "link_behind", broken)
    client = Client(raise_request_exception=False)
    answer = client.get(reverse("my-plays", args=["x.y"]), headers={"accept-language": speech})
    assert answer.status_code == 500
    assert f"<h1>{said}</h1>" in answer.content.decode()
    assert f'<html lang="{speech}">' in answer.content.decode()


REFERENCE = re.compile(r"\b[2-9A-Z]{4}-[2-9A-Z]{4}\b")


def failing(monkeypatch: pytest.MonkeyPatch, fault: Exception, speech: str = "en") -> Any:
    """The answer of a page that raises."""

    def broken(*_: object) -> None:
        raise fault

    monkeypatch.setattr(door, "link_behind", broken)
    client = Client(raise_request_exception=False, headers={"accept-language": speech})
    return client.get(reverse("my-plays", args=["x.y"]))


def test_the_reference_of_the_page_stands_in_the_log(monkeypatch: pytest.MonkeyPatch) -> None:
    said = io.StringIO()
    handler = logging.StreamHandler(said)
    handler.setFormatter(WithoutLinks("{levelname} {name} {message}", style="{"))
    logger = logging.getLogger("django.request")
    logger.addHandler(handler)
    try:
        shown = [failing(monkeypatch, RuntimeError("on purpose")).content.decode() for _ in "ab"]
    finally:
        logger.removeHandler(handler)
    references = [REFERENCE.findall(page) for page in shown]
    assert [len(found) for found in references] == [1, 1]
    assert references[0] != references[1]
    first = next(line for line in said.getvalue().splitlines() if references[0][0] in line)
    assert "ERROR django.request" in first
    assert "on purpose" in said.getvalue()
    assert "on purpose" not in shown[0]
    assert "Traceback" not in shown[0]


def by_sqlite(name: str) -> Exception:
    """As Django raises it: the driver's error is its cause."""
    driver = sqlite3.OperationalError("told by SQLite")
    driver.sqlite_errorname = name
    return caused_by(driver)


def caused_by(driver: Exception) -> OperationalError:
    fault = OperationalError("told by Django")
    fault.__cause__ = driver
    return fault


@pytest.mark.parametrize(
    ("fault", "said", "dicho"),
    [
        (by_sqlite("SQLITE_FULL"), "no room left", "no queda sitio"),
        (OSError(errno.ENOSPC, "no space"), "no room left", "no queda sitio"),
        (caused_by(psycopg.errors.DiskFull()), "no room left", "no queda sitio"),
        (by_sqlite("SQLITE_READONLY_DBMOVED"), "only be read", "solo se puede leer"),
        (by_sqlite("SQLITE_BUSY_SNAPSHOT"), "is busy", "está ocupado"),
        (caused_by(psycopg.errors.AdminShutdown()), "cannot reach", "no llega a sus datos"),
        (caused_by(psycopg.OperationalError("refused")), "cannot reach", "no llega a sus datos"),
    ],
)
def test_a_database_that_lacks_something_is_told_in_words(
    monkeypatch: pytest.MonkeyPatch, fault: Exception, said: str, dicho: str
) -> None:
    """503 and not 500: the courtside log then waits, and does not look for a tap to blame."""
    for speech, words in (("en", said), ("es", dicho)):
        answer = failing(monkeypatch, fault, speech)
        text = answer.content.decode()
        assert (answer.status_code, answer.headers["Retry-After"]) == (503, "10")
        assert words in text[text.index("<h1>") : text.index("</h1>")]
        assert len(REFERENCE.findall(text)) == 1


@pytest.mark.parametrize(
    "fault",
    [
        OSError(errno.ENOENT, "a file is gone"),
        by_sqlite("SQLITE_ERROR"),  # such as "no such column"
        ProgrammingError("no such column"),
    ],
)
def test_a_bug_is_no_lack(monkeypatch: pytest.MonkeyPatch, fault: Exception) -> None:
    assert failing(monkeypatch, fault).status_code == 500
