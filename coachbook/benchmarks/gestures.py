"""How long the server works at a gesture on the court: the step, then picture, strip and findings.

Played in a scratch folder by a process of its own on one of the demo plays, a waypoint dragged on
and on, so that no two documents are the same and nothing is kept from before. The browser asks
for nothing else until the hand rests. CPU time is what another program cannot spoil; the wall is
what a coach waits for, and the load of the machine stands beside it.
"""

from __future__ import annotations

import json
import os
import sys
import uuid
from statistics import quantiles
from time import perf_counter, process_time
from typing import TYPE_CHECKING, Final, TextIO

from coachbook.benchmarks.scratch import measured_by

if TYPE_CHECKING:
    from django.test import Client

    from plays.models import Play

PLAY: Final = "gangway"
GESTURES: Final = 120
INWARD: Final = 0.004  # metres, so that all of them stay on the court
WARM: Final = 5  # the first ones load what a running server has loaded long ago


def run(out: TextIO) -> None:
    """Measures and writes p50 and p95, in milliseconds."""
    times: dict[str, list[float]] = measured_by(__name__)
    out.write(f"{GESTURES} gestures on {PLAY}, load {os.getloadavg()[0]:.1f}\n")
    for name, found in times.items():
        cuts = quantiles(found, n=20)
        out.write(f"{name:6}p50 {cuts[9]:7.1f} ms   p95 {cuts[18]:7.1f} ms\n")


def measured() -> None:
    """Print what each gesture took. Runs in the scratch folder's own process."""
    from django.test import Client  # noqa: PLC0415 - only this process needs the database

    from coachbook import serving  # noqa: PLC0415
    from coachbook.demo import factories  # noqa: PLC0415
    from coachbook.demo.files import demo_play  # noqa: PLC0415

    serving.prepare()
    play = factories.published(demo_play(PLAY))
    client = Client(HTTP_HOST="localhost", HTTP_HX_REQUEST="true")
    user = factories.UserFactory.create(runs_club=True)
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    found = [gesture(client, play) for _ in range(GESTURES + WARM)][WARM:]
    cpu, wall = zip(*found, strict=True)
    sys.stdout.write(json.dumps({"cpu": cpu, "wall": wall}) + "\n")


def gesture(client: Client, play: Play) -> tuple[float, float]:
    """CPU and wall milliseconds of one drag. Raises RuntimeError where it is not taken."""
    from django.urls import reverse  # noqa: PLC0415

    newest = play.revisions.order_by("-number")[0]
    action = next(each for each in newest.value().actions() if each.path)
    to = [round(action.path[0].x - INWARD, 3), action.path[0].y]
    step = {"do": "move", "action": action.id, "point": 0, "at": to}
    sent = {"seen": newest.content_hash, "once": str(uuid.uuid4()), "phase": "1", "counter": ""}
    begun, worked = perf_counter(), process_time()
    path = reverse("draw-play", args=[play.key])
    answer = client.post(path, sent | {"command": json.dumps(step)}, follow=True)
    took = 1000 * (process_time() - worked), 1000 * (perf_counter() - begun)
    if answer.status_code != 200 or not answer.redirect_chain:
        raise RuntimeError(f"the gesture was answered {answer.status_code}")
    return took
