"""What a visitor's program says by itself: a host, a tag, a way on, another site's form.

Nothing of it is believed: no link of ours leads to a host that a visitor names, a tag opens no
page, a way on stays on the site, and a form without its token is nobody's.
"""

from __future__ import annotations

import re
from typing import Any
from urllib.parse import urlsplit

import pytest
from django.contrib.auth import hashers
from django.http import HttpResponse
from django.test import Client
from django.urls import reverse
from icalendar import Calendar

from coachbook.accounts.staff import remove
from coachbook.demo import factories
from practice.dates.feeds import feed_link, token
from practice.models import Game, Practice
from shared.models import Change, User
from tests.cast import Cast
from tests.coachbook.test_access import TABLE, address, people
from tests.coachbook.test_queries import GET_PAGES

EVIL = "evil.example"
WITH_LINKS = ("link-cards", "share-play", "share-library", "feeds", "staff-person", "sheets")


# --- a host that a visitor names: RFC 9110, 7.2 ---------------------------------------------


@pytest.mark.parametrize("name", ["home", "sign-in", *WITH_LINKS])
@pytest.mark.parametrize(
    "host", [EVIL, f"testserver@{EVIL}", f"{EVIL}#testserver", "testserver.", ""]
)
def test_a_host_that_is_not_set_is_answered_with_no_page(name: str, host: str, cast: Cast) -> None:
    answer = cast.client(cast.runner).get(address(name, cast), HTTP_HOST=host)
    assert answer.status_code == 400 or host == "testserver."  # a name's own last dot, RFC 1034
    assert EVIL not in answer.content.decode()


FORWARDED: dict[str, Any] = {
    "HTTP_X_FORWARDED_HOST": EVIL,
    "HTTP_X_FORWARDED_SERVER": EVIL,
    "HTTP_X_HOST": EVIL,
    "HTTP_FORWARDED": f"host={EVIL};proto=https",
    "HTTP_X_ORIGINAL_URL": f"https://{EVIL}/",
    "HTTP_X_REWRITE_URL": f"https://{EVIL}/",
}


@pytest.mark.parametrize("name", WITH_LINKS)
def test_no_link_leads_where_a_visitor_says(name: str, cast: Cast) -> None:
    client, path = cast.client(cast.runner), address(name, cast)
    client.post(path, {"for": "team"})  # a link, where there is none yet
    answer = client.get(path, **FORWARDED)
    assert answer.status_code == 200
    page = answer.content.decode()
    assert EVIL not in page
    found = {urlsplit(link).netloc for link in re.findall(r"https?://[^\s\"'<>]+", page)}
    assert found <= {"testserver", "www.w3.org"}


# --- somebody else's tag: RFC 9110, 13.1.2 --------------------------------------------------


@pytest.mark.parametrize("name", GET_PAGES)
def test_a_tag_opens_no_page_and_tells_of_none(name: str, cast: Cast) -> None:
    """Whoever says a tag, the star too, gets what they would get without it: no 304 where the
    page is not theirs."""
    path = address(name, cast)
    tags = {"*", cast.client(cast.runner).get(path).headers.get("ETag", '"none"')}
    for person, status in zip(people(cast), TABLE[name], strict=True):
        for tag in tags if status != 200 else ():
            asked = cast.client(person).get(path, headers={"If-None-Match": tag})
            assert (asked.status_code, "ETag" in asked.headers) == (status, False)


# --- ways on ------------------------------------------------------------------------------

AWAY = (
    f"//{EVIL}/",
    f"///{EVIL}/",
    f"/\\{EVIL}/",
    f"\\\\{EVIL}/",
    f"https://{EVIL}/",
    f"https:{EVIL}/",
    f"https:///{EVIL}/",
    f"http://testserver@{EVIL}/",
    f"http://testserver\\@{EVIL}/",
    f"\t//{EVIL}/",
    f"/\t/{EVIL}/",
    f"/\n/{EVIL}/",
    f" //{EVIL}/",
    f"\x00//{EVIL}/",
    f"/%09/{EVIL}/",
    "javascript:alert(1)",
    "java\nscript:alert(1)",
    "data:text/html,x",
)


def leads_away(location: str) -> bool:
    """As browsers read an address: tabs and line ends go, and a backslash is a slash (the URL
    standard of WHATWG, 4.4)."""
    seen = re.sub(r"[\t\r\n]", "", location).strip().replace("\\", "/")
    return seen.startswith("//") or re.match(r"[a-zA-Z][\w+.-]*:", seen) is not None


@pytest.mark.parametrize("wish", AWAY)
def test_a_way_on_stays_on_this_site(wish: str, cast: Cast) -> None:
    said = {"username": "head", "password": "head-password", "next": wish}
    signed_in = Client().post("/sign-in/", said)
    asked = {"next": wish}
    already = cast.client(cast.head).get("/sign-in/", asked)
    owes_nothing = cast.client(cast.head).get(reverse("second-step"), asked)
    for answer in (signed_in, already, owes_nothing):
        assert answer.status_code == 302
        assert not leads_away(answer.headers["Location"]), answer.headers["Location"]


def test_a_way_on_of_this_site_is_gone() -> None:
    assert not leads_away("/library/?words=zone")
    assert all(leads_away(wish) for wish in AWAY if wish.isprintable() and "%" not in wish[:-1])


# --- another site's form ---------------------------------------------------------------------


def test_a_form_of_another_site_is_nobodys(cast: Cast) -> None:
    """Every address by POST with a session that runs the club: without the token, with a made-up
    one, with that of another browser, and as htmx would send it."""
    paths = {name: address(name, cast) for name in sorted(TABLE)}
    client = Client(enforce_csrf_checks=True)
    client.force_login(cast.runner, "django.contrib.auth.backends.ModelBackend")
    client.get("/account/")
    other = Client().get("/sign-in/").cookies["csrftoken"].value
    before = Change.objects.count()
    tries: tuple[dict[str, Any], ...] = (
        {},
        {"HTTP_X_CSRFTOKEN": "a" * 64},
        {"HTTP_X_CSRFTOKEN": other},
        {"HTTP_HX_REQUEST": "true", "HTTP_ORIGIN": f"https://{EVIL}"},
    )
    for name, path in paths.items():
        for more in tries:
            answer = client.post(path, {"name": "Eve"}, **more)
            assert answer.status_code == 403, name
    assert Change.objects.count() == before
    assert client.get("/account/").status_code == 200  # nor is anybody signed out


def test_the_same_form_with_its_token_is_taken(cast: Cast) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(cast.runner, "django.contrib.auth.backends.ModelBackend")
    page = client.get("/account/").content.decode()
    found = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', page)
    assert found
    sent = {"csrfmiddlewaretoken": found[1]}
    assert client.post("/account/devices/end/", sent).status_code == 302


# --- who exists -------------------------------------------------------------------------------


def signs_in(name: str) -> HttpResponse:
    client = Client(REMOTE_ADDR="10.3.2.1")
    return client.post("/sign-in/", {"username": name, "password": "nonsense nonsense"})  # type: ignore[return-value]


def test_signing_in_tells_neither_by_words_nor_by_work_who_exists(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A name that is nobody's, one that is somebody's, one without a password yet, a guest's and
    that of somebody who was removed: one answer, and each time one hash is computed."""
    factories.UserFactory.create(username="guest", name="Gro", is_guest=True)
    fresh = User.objects.create(username="fresh", name="Fritz")
    fresh.set_unusable_password()
    fresh.save()
    gone = factories.UserFactory.create(username="gone", name="Gus")
    remove(cast.runner, gone)
    work: list[str] = []
    kind = type(hashers.get_hasher())
    encode = kind.encode

    def counted(hasher: Any, *said: Any, **more: Any) -> str:
        work.append("hash")
        return str(encode(hasher, *said, **more))

    monkeypatch.setattr(kind, "encode", counted)
    seen = set()
    for name in ("nobody-here", "head", "fresh", "guest", "gone"):
        work.clear()
        answer = signs_in(name)
        text = answer.content.decode().replace(f'value="{name}"', "")
        text = re.sub(r'csrfmiddlewaretoken" value="[^"]+"', "", text)
        seen.add((answer.status_code, text, len(work)))
    assert len(seen) == 1
    assert next(iter(seen))[2] == 1


# --- lines of one's own in a calendar: RFC 5545, 3.1 and 3.3.11 ---------------------------------


def test_nobody_writes_lines_of_their_own_into_a_calendar(cast: Cast) -> None:
    lines = "Hall\r\nEND:VEVENT\r\nBEGIN:VEVENT\r\nURL:https://evil.example"
    Game.objects.update(opponent=lines, place=lines)
    Practice.objects.update(place=lines.replace("\r\n", "\n"))
    path = reverse("feed", args=[token(feed_link(cast.team, None))])
    data = Client().get(path).content
    events = Calendar.from_ical(data).walk("VEVENT")
    dates = Game.objects.count() + Practice.objects.count()
    assert len(events) == data.count(b"BEGIN:VEVENT\r\n") == dates > 1
    assert not [event for event in events if "URL" in event]
    assert not [line for line in data.split(b"\r\n") if line.startswith(b"URL")]
