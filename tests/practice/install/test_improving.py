"""The worker as a real process beside a real server: it improves, is stopped, or is killed."""

from __future__ import annotations

import http.client
import json
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from coachbook.benchmarks.courtside import COOKIE, TOKEN, Hall, hall

PREPARE = """
from datetime import timedelta
from django.utils import timezone
from coachbook.demo import factories
from practice import install
from roster.models import Staff, Team
Staff.objects.update(duty="head")
team, today = Team.objects.get(), timezone.localdate()
for days in (1, 2, 3):
    factories.PracticeFactory.create(team=team, date=today + timedelta(days=days))
game = factories.GameFactory.create(team=team, date=today + timedelta(days=5))
install.propose(game, timezone.now())
print(game.pk)
"""
LOOK = """
import json
from practice.models import Improvement, InstallPlan
run = Improvement.objects.first()
print(json.dumps([run.state, run.fault, InstallPlan.objects.get().gap]))
"""


@pytest.fixture
def place(tmp_path: Path) -> Iterator[Hall]:
    made = hall(tmp_path)
    made.facts["game"] = int(made.run(PREPARE))
    made.start()
    yield made
    made.kill()


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


@pytest.mark.alone
def test_the_worker_outlives_the_server_and_hears_a_stop(place: Hall) -> None:
    post(place, "improve")
    assert wait(place, "running", "done")[1] == ""
    place.kill()
    place.start()
    post(place, "stop")
    state, fault, gap = wait(place, "cancelled", "done")
    assert fault == ""
    assert gap is not None
    assert state in {"cancelled", "done"}
