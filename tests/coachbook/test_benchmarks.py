"""The benchmarks run: what they measure is the product's own way, on a small scale here."""

from __future__ import annotations

import io
import re
from concurrent.futures import ThreadPoolExecutor
from importlib import import_module
from pathlib import Path
from subprocess import CalledProcessError

import pytest
from django.db.models import Sum
from django.test import Client

from coachbook.benchmarks import booklets, callers, court, evening, federation, gestures, uncast
from coachbook.benchmarks.courtside import Hall, free_port
from coachbook.demo import factories
from coachbook.demo.files import demo_play
from coachbook.management.commands.benchmark import SUBJECTS
from practice.models import RepSum
from roster.models import Team
from shared.models import User
from tests.machine import needs
from tests.postgresql import cluster


@pytest.mark.parametrize("subject", SUBJECTS)
def test_every_subject_can_be_run(subject: str) -> None:
    assert callable(import_module(f"coachbook.benchmarks.{subject}").run)


@pytest.mark.django_db
def test_each_gesture_is_taken_and_makes_another_draft() -> None:
    play = factories.published(demo_play(gestures.PLAY))
    client = Client(headers={"hx-request": "true"})
    user = factories.UserFactory.create(runs_club=True)
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    drafts = set()
    for _ in range(3):
        cpu, wall = gestures.gesture(client, play)
        assert cpu > 0
        assert wall > 0
        drafts.add(play.revisions.order_by("-number")[0].content_hash)
    assert len(drafts) == 3


@pytest.mark.alone
@needs("chromium")
def test_each_gesture_in_the_browser_is_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """By mouse and by key; the network is a part of what a coach waits for."""
    monkeypatch.setattr(court, "PLAYS", ("gangway",))
    monkeypatch.setattr(court, "BY_MOUSE", 2)
    monkeypatch.setattr(court, "BY_KEYS", 2)
    monkeypatch.setattr(court, "WARM", 1)
    told: list[list[float]] = []
    monkeypatch.setattr(court, "told", lambda _out, _name, values: told.append(list(values)))
    out = io.StringIO()
    # Beside the tests' own browser, whose loop runs in this thread.
    with ThreadPoolExecutor(1) as apart:
        apart.submit(court.run, out).result()
    assert "4 gestures on gangway" in out.getvalue()
    whole, network, browser = told
    assert len(whole) == len(network) == len(browser) == 4
    assert all(0 < part < all_ for part, all_ in zip(network, whole, strict=True))


def test_without_a_browser_the_court_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("shutil.which", lambda _name: None)
    out = io.StringIO()
    court.run(out)
    assert out.getvalue() == "no browser to drive on this machine\n"


def test_more_plays_take_more_pages(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(booklets, "PLAYS", 1)
    seconds, few = booklets.measured("a4")
    monkeypatch.setattr(booklets, "PLAYS", 3)
    assert seconds > 0
    assert booklets.measured("a4")[1] > few >= booklets.PLAYERS


@pytest.mark.alone
def test_an_evening_of_a_few_seconds_is_all_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Real requests to a real server: each is answered, and a rep that is told kept is counted."""
    monkeypatch.setattr(evening, "PHONES", 4)
    monkeypatch.setattr(evening, "WAITS", {"phone": (0.1, 0.2), "staff": (0.1, 0.2)})
    monkeypatch.setattr(evening, "warm_up", lambda *_: None)
    out = io.StringIO()
    evening.run(out, seconds=4)
    said = out.getvalue()
    assert "wrong answers: 0" in said
    for kind in callers.KINDS:
        row = next(line for line in said.splitlines() if line.startswith(kind))
        answers, _, p50, p95, most = (float(cell) for cell in row.removeprefix(kind).split())
        assert answers > 0
        assert 0 < p50 <= p95 <= most
    assert float(re.findall(r"at most (\d+) MB", said)[0]) > 20


@pytest.mark.django_db
def test_a_package_half_cast_is_half_cast(monkeypatch: pytest.MonkeyPatch) -> None:
    """And every page of it answers, with each play that nobody is cast in under its own name."""
    monkeypatch.setattr(uncast, "PLAYS", 4)
    team = uncast.carrying(uncast=2, holed=1)
    cast_in = [entry.castings.count() for entry in team.package.order_by("pk")]
    assert cast_in == [0, 0, 12, 15]
    client = Client(HTTP_HOST="localhost")
    user = User.objects.create(username="r", name="R", runs_club=True)
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    for page in uncast.PAGES:
        answer = client.get(uncast.path_of(page, team))
        assert answer.status_code == 200, page
    said = client.get(uncast.path_of("the-five", team)).content.decode()
    assert "Can run" in said
    not_these = said.partition("Not these")[2]
    assert all(f"Call {n}" in not_these and f"Play {n}" in not_these for n in range(3))


def test_the_middle_and_the_slow_end_of_some_times() -> None:
    """Of 0 to 100 by what the words mean: as many below as their name says."""
    assert callers.middle_and_slow([float(n) for n in range(101)]) == (50.0, 95.0)


@pytest.mark.django_db
def test_a_small_federation_is_what_it_says() -> None:
    """Counted by what was asked for: 15 players a team, and five roles in each rep."""
    said = federation.build(3, 3 * 46 * 4)
    teams, players, reps, roles = (
        int(number.replace(",", "")) for number in re.findall(r"(\d[\d,]*) \w", said)
    )
    assert (teams, players) == (3, 45)
    assert reps == 3 * 46 * 4
    assert roles == 5 * reps
    assert RepSum.objects.aggregate(n=Sum("count"))["n"] == roles
    team = Team.objects.order_by("pk")[1]
    client = Client(HTTP_HOST="localhost")
    user = User.objects.get(runs_club=True)
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    for _, path in federation.heavy_pages(team):
        assert client.get(path).status_code == 200, path


TAKEN_OVER = "print(User.objects.update(password='chosen'))"  # a database that people use


@pytest.mark.alone
@needs("postgresql")
def test_a_small_federation_is_served_by_two_processes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every rep that was told kept is in the database, and no database but its own is taken."""
    count = "from practice.models import Rep; print(Rep.objects.count())"
    with cluster() as server:
        place = Hall(tmp_path, free_port(), settings={"COACHBOOK_DATABASE": server.address})
        monkeypatch.setenv("COACHBOOK_DATABASE", server.address)
        out = io.StringIO()
        federation.run(out, 8, 8 * 46 * 4, seconds=4)
        said = out.getvalue()
        assert int(place.run(count)) > 8 * 46 * 4
        again = io.StringIO()
        federation.run(again, 0, 0, filled=True, seconds=4)
        place.run(f"from shared.models import User; {TAKEN_OVER}")
        with pytest.raises(CalledProcessError):
            federation.run(again, 0, 0, filled=True)
    for text in (said, again.getvalue()):
        assert "8 teams, 120 players" in text
        assert "wrong answers: 0" in text
        assert float(re.findall(r"([\d.]+) writes a second", text)[0]) > 0
        first, second = re.findall(r"at most (\d+) and (\d+) MB", text)[0]
        assert min(int(first), int(second)) > 20
