"""Two processes of one site, as on two machines: ports and data folders of their own, and in
common one PostgreSQL, one key and one folder of drawn papers. Whatever is asked of one, the
other knows.
"""

from __future__ import annotations

import io
import json
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from coachbook.benchmarks.courtside import Hall, free_port, hall, tap_body
from tests.coachbook.faulty import ask
from tests.coachbook.visitor import ONCE, Visitor
from tests.machine import needs
from tests.postgresql import cluster

pytestmark = needs("postgresql")
PASSWORD = "heron lamp 19 oar"
NEW_PERSON = f"""
from coachbook.accounts.changes import new_link, path_of
from coachbook.demo import factories
from django.utils import timezone
from shared.models import User
user = factories.UserFactory.create(username="hedda", password="{PASSWORD}", runs_club=True)
print(path_of(new_link(user, timezone.now())))
"""


@dataclass(frozen=True)
class Two:
    """Both processes, and a one-time link of Hedda, who runs the club."""

    here: Hall
    there: Hall
    link: str

    def hedda(self) -> Visitor:
        visitor = Visitor()
        facts = {"username": "hedda", "password": PASSWORD}
        assert visitor.post(f"{self.here.url}/sign-in/", facts)[0] == 302
        return visitor

    def count(self, what: str) -> int:
        script = f"from roster.models import Player; from practice.models import Rep; print({what})"
        return int(self.here.run(script))


@pytest.fixture(scope="module")
def two(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Two]:
    folder = tmp_path_factory.mktemp("two")
    with cluster() as server:
        common = {
            "COACHBOOK_DATABASE": server.address,
            "COACHBOOK_SECRET_KEY": "0123456789" * 6,
            "COACHBOOK_PIECES": str(folder / "pieces"),
        }
        here = hall(folder / "here", settings=common, log=folder / "here.txt")
        link = here.run(NEW_PERSON)
        there = Hall(folder / "there", free_port(), here.facts, settings=common)
        for place in (here, there):
            place.start()
        try:
            yield Two(here, there, link)
        finally:
            for place in (here, there):
                place.kill()


def at_once(*each: Callable[[], tuple[int, str, str]]) -> list[tuple[int, str, str]]:
    with ThreadPoolExecutor(len(each)) as pool:
        return [future.result() for future in [pool.submit(one) for one in each]]


def test_who_signs_in_at_one_is_known_to_the_other_until_they_sign_out(two: Two) -> None:
    visitor = two.hedda()
    status, page, _ = visitor.get(f"{two.there.url}/account/")
    assert (status, "Hedda" in page) == (200, True)
    assert visitor.post(f"{two.there.url}/sign-out/", {}, page)[0] == 302
    assert visitor.get(f"{two.here.url}/account/")[0] == 302


def test_wrong_passwords_count_together(two: Two) -> None:
    """Each process sees fewer than the limit of six by itself."""
    visitor = Visitor()
    for n in range(10):
        place = (two.here, two.there)[n % 2]
        facts = {"username": "coach1", "password": f"wrong {n}"}
        visitor.post(f"{place.url}/sign-in/", facts)
    status = visitor.post(f"{two.there.url}/sign-in/", {"username": "coach1", "password": "x"})[0]
    assert status in (403, 429)


def test_a_one_time_link_opens_one_session_at_both(two: Two) -> None:
    visitors = [(Visitor(), place) for place in (two.here, two.there) for _ in range(3)]
    pages = [visitor.get(place.url + two.link)[1] for visitor, place in visitors]
    answers = at_once(
        *(
            lambda v=v, p=p, page=page: v.post(p.url + two.link, {}, page)
            for (v, p), page in zip(visitors, pages, strict=True)
        )
    )
    assert sorted(status for status, _, _ in answers) == [302, 404, 404, 404, 404, 404]


def test_a_form_sent_to_both_makes_one(two: Two) -> None:
    visitor = two.hedda()
    path = f"/teams/{two.here.facts['team']}/roster/new/"
    page = visitor.get(two.here.url + path)[1]
    once = ONCE.search(page)
    assert once
    facts = {"name": "Ulla", "number": "77", "availability": "available", "once": once[1]}
    before = two.count("Player.objects.count()")
    answers = at_once(
        lambda: visitor.post(two.here.url + path, facts, page),
        lambda: visitor.post(two.there.url + path, facts, page),
    )
    assert [status for status, _, _ in answers] == [302, 302]
    assert answers[0][2] == answers[1][2]
    assert two.count("Player.objects.count()") == before + 1


def test_a_tap_sent_to_both_is_one_rep(two: Two) -> None:
    before = two.count("Rep.objects.count()")
    taps = [tap_body(two.here.facts)[1] for _ in range(20)]
    address = f"/teams/{two.here.facts['team']}/taps/"
    with ThreadPoolExecutor(4) as pool:
        asked = [
            pool.submit(ask, place, address, body, number % 4)
            for number, body in enumerate(taps)
            for place in (two.here, two.there)
        ]
        answers = [each.result() for each in asked]
    assert all(answer.status == 200 for answer in answers)
    assert all(len(json.loads(answer.text)["kept"]) == 1 for answer in answers)
    assert two.count("Rep.objects.count()") == before + len(taps)


def test_a_picture_handed_to_one_is_shown_by_the_other(two: Two) -> None:
    visitor, out = two.hedda(), io.BytesIO()
    Image.new("RGB", (600, 400), "navy").save(out, "JPEG")
    file = SimpleUploadedFile("board.jpg", out.getvalue(), "image/jpeg")
    path = f"/teams/{two.here.facts['team']}/drills/new/"
    facts = {"name": "Paper boats", "minutes": "7", "text": "Two lines.", "file": file}
    status, _, led = visitor.post(two.here.url + path, facts)
    assert status == 302
    page = visitor.get(two.there.url + led)[1]
    assert "Paper boats" in page
    picture = next(word for word in page.split('"') if "picture.jpg" in word)
    assert visitor.get(two.there.url + picture)[0] == 200


def test_booklets_begun_at_one_are_followed_and_fetched_at_the_other(two: Two) -> None:
    visitor = two.hedda()
    path = f"/teams/{two.here.facts['team']}/print/"
    page = visitor.get(two.here.url + path)[1]
    sent = visitor.post(f"{two.here.url}{path}booklets/", {"paper": "a4"}, page)
    assert sent[0] == 302
    until = time.monotonic() + 60
    while time.monotonic() < until:
        page = visitor.get(f"{two.there.url}{path}")[1]
        found = [word for word in page.split('"') if "booklets.pdf" in word]
        if found:
            break
        time.sleep(0.5)
    status, text, _ = visitor.get(two.there.url + found[0].replace("&amp;", "&"))
    assert (status, text[:5]) == (200, "%PDF-")


def test_nothing_of_the_club_lies_in_the_folder_of_one_process(two: Two) -> None:
    """What is local: the collected static files, the same for every process of a version."""
    for place in (two.here, two.there):
        assert {path.name for path in place.data.iterdir()} == {"static"}
    assert list(Path(two.here.settings["COACHBOOK_PIECES"]).glob("*/*"))
