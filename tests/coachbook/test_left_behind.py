"""What is left behind: nothing that opens a page in a log, nothing private in a browser."""

from __future__ import annotations

import io
import logging
import sys
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings as site
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from coachbook.accounts.changes import new_link, path_of, set_up_path
from coachbook.log_lines import WithoutLinks, without_links
from practice.dates.feeds import feed_link, token
from roster.squad import door
from roster.squad.links import link_for, path_of_player
from tests.cast import Cast
from tests.coachbook.test_access import address
from tests.roster.sheets.printed import draw

FORMATTERS: Any = site.LOGGING["formatters"]
LINE = FORMATTERS["line"]
SECRET = ("account", "staff", "staff-person", "sheets", "link-cards", "feeds")
DOWNLOADS = ("export-roster", "plan-pdf", "sheets-zip", "library-file")


def paths(cast: Cast) -> list[str]:
    return [
        path_of(new_link(cast.assistant, timezone.now())),
        path_of_player(link_for(cast.players[0], timezone.now())),
        reverse("feed", args=[token(feed_link(cast.team, cast.players[0]))]),
        set_up_path(),
    ]


@pytest.fixture
def log() -> io.StringIO:
    """What a console would show, written as the site's settings say."""
    return io.StringIO()


def test_an_error_page_is_logged_without_its_link(
    cast: Cast, log: io.StringIO, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(found: str, *_: object) -> None:
        raise RuntimeError(f"no player behind {found}")

    monkeypatch.setattr(door, "link_behind", broken)
    handler = logging.StreamHandler(log)
    handler.setFormatter(WithoutLinks(LINE["fmt"], style=LINE["style"]))
    logger = logging.getLogger("django.request")
    logger.addHandler(handler)
    try:
        client = Client(raise_request_exception=False)
        for path in paths(cast):
            client.get(path)
            client.get(path[:-6] + "/")  # one that lost its end is nearly the whole
    finally:
        logger.removeHandler(handler)
    said = log.getvalue()
    assert "RuntimeError: no player behind [link]" in said
    for path in paths(cast):
        secret = path.strip("/").split("/")[1].removesuffix(".ics")
        assert secret[:30] not in said
    assert "/set-up/[link]/" in said


def test_the_sites_own_log_is_written_that_way() -> None:
    assert LINE["()"] == "coachbook.log_lines.WithoutLinks"


def test_other_words_stay_as_they_are() -> None:
    text = 'File "/work/coachbook/accounts/views_team_staff.py", line 3: practice.install.improving'
    assert without_links(text) == text
    assert without_links(sys.version) == sys.version


@pytest.mark.parametrize("name", [*SECRET, *DOWNLOADS])
def test_no_browser_keeps_what_opens_something_or_is_taken_along(
    name: str, cast: Cast, tmp_path: Path, settings: Any
) -> None:
    settings.DATA = tmp_path
    draw(cast, "each")
    answer = cast.client(cast.runner).get(address(name, cast))
    assert answer.status_code == 200
    assert answer.headers["Cache-Control"] == "private, no-store"


def test_nor_the_pages_before_signing_in(cast: Cast) -> None:
    client = Client()
    for path in (paths(cast)[0], "/sign-in/", "/sign-in/none.none/"):
        assert "no-store" in client.get(path).headers["Cache-Control"]


def test_other_pages_are_asked_for_again_each_time(cast: Cast) -> None:
    for name in ("home", "roster", "sheet", "my-plays"):
        answer = cast.client(cast.head).get(address(name, cast))
        assert answer.headers["Cache-Control"] == "private, no-cache"
        assert "ETag" in answer.headers


def test_signing_out_lets_the_browser_forget(cast: Cast) -> None:
    answer = cast.client(cast.head).post("/sign-out/")
    assert answer.headers["Clear-Site-Data"] == '"cache"'


def test_a_step_back_asks_for_the_whole_page(cast: Cast) -> None:
    client = cast.client(cast.head)
    asked = {"HX-Request": "true", "HX-History-Restore-Request": "true"}
    whole = client.get("/library/", headers=asked).content.decode()
    part = client.get("/library/", headers={"HX-Request": "true"}).content.decode()
    assert whole.startswith("<!doctype html>")
    assert "<html" not in part
