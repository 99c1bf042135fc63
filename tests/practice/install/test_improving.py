"""The worker as a real process beside a real server: it improves, is stopped, or is killed."""

from __future__ import annotations

import http.client
import json
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from coachbook.benchmarks.courtside import COOKIE, TOKEN, Hall
from tests.workers import kill_worker, prepared

TABLE = "practice.Improvement"  # stands in the command of the worker
PREPARE = """
from datetime import timedelta
from django.utils import timezone
from coachbook.demo import factories
from practice.install import plan as install
from roster.models import Staff, Team
Staff.objects.update(duty="head")
team, today = Team.objects.get(), timezone.localdate()
for days in (1, 2, 3):
    factories.PracticeFactory.create(team=team, date=today + timedelta(days=days))
game = factories.GameFactory.create(team=team, date=today + timedelta(days=5))
install.propose(game, timezone.now())
print(game.pk)
"""
MORE_PLAYS = """
from datetime import timedelta
from coachbook.demo import factories
from coachbook.demo.files import demo_plays
from practice.install import plan as install
from practice.models import Game
from django.utils import timezone
game = Game.objects.get()
for days in range(4, 16):
    day = timezone.localdate() + timedelta(days=days)
    factories.PracticeFactory.create(team=game.team, date=day)
game.date = timezone.localdate() + timedelta(days=17)
game.save()
players = list(game.team.players.all())
for number, value in enumerate(list(demo_plays())[1:15]):
    entry = factories.PackagePlayFactory.create(
        team=game.team, play=factories.published(value), call=value.name
    )
    for role in range(5):
        who = players[(role + number) % len(players)]
        factories.CastingFactory.create(entry=entry, role=str(role + 1), player=who)
install.propose(game, timezone.now())
print(game.pk)
"""
LOOK = """
import json
from practice.models import Improvement, InstallPlan
run = Improvement.objects.first()
print(json.dumps([run.state, run.fault, InstallPlan.objects.get().gap, run.starts, run.share]))
"""
FALL_SILENT = """
from django.utils import timezone
from practice.models import Improvement
from shared.worker import SILENT
print(Improvement.objects.update(beat_at=timezone.now() - SILENT - SILENT))
"""


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Hall]:
    with prepared(tmp_path, PREPARE, "game") as made:
        yield made


def post(place: Hall, name: str) -> None:
    link = http.client.HTTPConnection("127.0.0.1", place.port, timeout=10)
    session = place.facts["sessions"][0]
    headers = {"Cookie": f"{COOKIE}={session}; csrftoken={TOKEN}", "X-CSRFToken": TOKEN}
    begun = time.monotonic()
    link.request("POST", f"/games/{place.facts['game']}/install/{name}/", "", headers)
    assert link.getresponse().status == 302
    assert time.monotonic() - begun < 5  # no request waits for the solver
    link.close()


def wait(place: Hall, *states: str) -> Any:
    for _ in range(40):
        found = json.loads(place.run(LOOK))
        if found[0] in states:
            return found
        time.sleep(0.5)
    raise AssertionError(found)


def test_the_worker_outlives_the_server_and_hears_a_stop(place: Hall) -> None:
    post(place, "improve")
    assert wait(place, "running", "done")[1] == ""
    place.kill()
    place.start()
    post(place, "stop")
    state, fault, gap, *_ = wait(place, "cancelled", "done")
    assert fault == ""
    assert gap is not None
    assert state in {"cancelled", "done"}


def kill_at_work(place: Hall) -> None:
    """SIGKILL, as the system does when memory runs out; then the time that makes it noticed."""
    before = json.loads(place.run(LOOK))[4]
    for _ in range(40):
        *_, share = json.loads(place.run(LOOK))
        if share != before:  # it is at work
            break
    kill_worker(place, TABLE)
    place.run(FALL_SILENT)


def look(place: Hall) -> str:
    link = http.client.HTTPConnection("127.0.0.1", place.port, timeout=10)
    headers = {"Cookie": f"{COOKIE}={place.facts['sessions'][0]}"}
    link.request("GET", f"/games/{place.facts['game']}/install/", headers=headers)
    text = link.getresponse().read().decode()
    link.close()
    return text


@pytest.mark.alone  # killed in time, as there is nothing beside it
@pytest.mark.skipif(not Path("/proc/self/environ").exists(), reason="finds the worker by /proc")
def test_a_killed_worker_is_begun_again_and_then_reported(place: Hall) -> None:
    place.run(MORE_PLAYS)  # enough to keep it busy
    post(place, "improve")
    kill_at_work(place)
    assert "Improving in the background" in look(place)
    assert wait(place, "running")[3] == 2
    kill_at_work(place)
    assert "broke off twice" in look(place)
    assert wait(place, "failed")[3] == 2
