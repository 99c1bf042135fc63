"""Four phones log at once against SQLite: how long a write takes, through a real server process.

Nothing else is compared: the measure is our own, the 95th percentile of a write under 200 ms.
"""

from __future__ import annotations

import http.client
import json
import os
import random
import signal
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
import uuid
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final, TextIO

ROOT: Final = Path(__file__).resolve().parents[2]
PHONES: Final = 4
WRITES: Final = 60  # of each phone
TARGET: Final = 200  # milliseconds, for 95 of 100 writes
PATIENCE: Final = 90.0  # seconds; old data are brought forward first, on a busy machine too
COOKIE: Final = "sessionid"
TOKEN: Final = "benchmarktokenbenchmarktokenbenc"  # 32 letters, as Django makes them


@dataclass
class Hall:
    """A club with one team in a scratch folder, and the server process that serves it."""

    data: Path
    port: int
    facts: dict[str, Any] = field(default_factory=dict)
    process: subprocess.Popen[bytes] | None = None
    settings: dict[str, str] = field(default_factory=dict)  # of the environment
    log: Path | None = None  # where the server's own words go
    user: str | None = None  # whom the processes run as; only root may choose

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def furnish(self) -> None:
        """Make the database and a small club in it, in a process of its own."""
        self.facts = json.loads(
            self.run("from coachbook.benchmarks.courtside import small_club; small_club()")
        )

    def run(self, script: str) -> str:
        """The last line that a script printed which ran beside the server, in its own process."""
        command = [sys.executable, "-m", "django", "shell", "--no-imports", "-c", script]
        done = subprocess.run(
            command, cwd=ROOT, env=self._env(), capture_output=True, check=True, **self._as_user()
        )
        return str(done.stdout.decode().splitlines()[-1])

    def start(self) -> None:
        """Start the server and wait until it answers. Raises RuntimeError when it does not."""
        command = [sys.executable, "-m", "django", "start", "--port", str(self.port)]
        with (self.log or Path(os.devnull)).open("ab") as said:
            self.process = subprocess.Popen(
                command, cwd=ROOT, env=self._env(), stdout=said, stderr=said, **self._as_user()
            )
        until = time.monotonic() + PATIENCE
        while self.process.poll() is None and time.monotonic() < until:
            if self.answers():
                return
            time.sleep(0.1)
        self.kill()
        raise RuntimeError("the server did not start")

    def answers(self) -> bool:
        link = http.client.HTTPConnection("127.0.0.1", self.port, timeout=2)
        try:
            link.request("GET", "/health/")
            return link.getresponse().status == 200
        except OSError:
            return False
        finally:
            link.close()

    def kill(self) -> None:
        """End the server as a power cut would: SIGKILL, no chance to tidy up."""
        if self.process is not None:
            self.process.send_signal(signal.SIGKILL)
            self.process.wait()
            self.process = None

    def _env(self) -> dict[str, str]:
        plain = {name: value for name, value in os.environ.items() if "COACHBOOK" not in name}
        own = {"COACHBOOK_DATA": str(self.data), "DJANGO_SETTINGS_MODULE": "coachbook.settings"}
        return plain | own | self.settings

    def _as_user(self) -> dict[str, Any]:
        return {"user": self.user, "extra_groups": []} if self.user else {}


def hall(data: Path, **facts: Any) -> Hall:
    """A furnished hall on a free port, its server not started yet."""
    made = Hall(data, free_port(), **facts)
    made.furnish()
    return made


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
    return port


def small_club() -> None:
    """Build the club and print what a phone needs to know. Runs in the hall's own process."""
    from django.test import Client  # noqa: PLC0415 - only this process needs the database

    from coachbook import serving  # noqa: PLC0415
    from coachbook.demo import factories  # noqa: PLC0415
    from coachbook.demo.files import demo_plays  # noqa: PLC0415

    serving.prepare()
    factories.ClubFactory.create()
    team = factories.TeamFactory.create()
    users = [factories.UserFactory.create() for _ in range(PHONES)]
    for user in users:
        factories.StaffFactory.create(team=team, user=user, duty="assistant")
    players = [factories.PlayerFactory.create(team=team) for _ in range(8)]
    entry = factories.PackagePlayFactory.create(
        team=team, play=factories.published(next(iter(demo_plays())))
    )
    for role, player in enumerate(players[:5], start=1):
        factories.CastingFactory.create(entry=entry, role=str(role), player=player)
    practice = factories.PracticeFactory.create(team=team)
    sessions = []
    for user in users:
        client = Client()
        client.force_login(user, "django.contrib.auth.backends.ModelBackend")
        sessions.append(client.cookies[COOKIE].value)
    facts = {
        "team": team.pk,
        "practice": practice.pk,
        "entry": entry.pk,
        "five": {str(role): player.pk for role, player in enumerate(players[:5], start=1)},
        "sessions": sessions,
    }
    sys.stdout.write(json.dumps(facts) + "\n")


def phone(place: Hall, number: int, writes: int, took: list[float], wrong: list[str]) -> None:
    """One phone: a rep with every send, and every fifth send doubled."""
    chance = random.Random(number)  # noqa: S311 - the same load every time, no secret
    link = http.client.HTTPConnection("127.0.0.1", place.port, timeout=30)
    for _ in range(writes):
        _, body = tap_body(place.facts)
        for _ in range(2 if chance.random() < 0.2 else 1):
            begun = time.perf_counter()
            status, answer = send(link, place, number, body)
            took.append(time.perf_counter() - begun)
            if status != 200 or len(answer["kept"]) != 1:
                wrong.append(f"{status} {answer}")
    link.close()


def phones_at_once(place: Hall, writes: int) -> tuple[list[float], list[str]]:
    """Seconds of every write of all phones, and every answer that was wrong."""
    took: list[float] = []
    wrong: list[str] = []
    threads = [
        threading.Thread(target=phone, args=(place, number, writes, took, wrong))
        for number in range(PHONES)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return took, wrong


def run(out: TextIO) -> None:
    with tempfile.TemporaryDirectory(prefix="coachbook-hall-") as folder:
        place = hall(Path(folder))
        place.start()
        try:
            phones_at_once(place, 3)  # the first requests load modules and templates
            took, wrong = phones_at_once(place, WRITES)
        finally:
            place.kill()
    p50, p95 = (1000 * statistics.quantiles(took, n=100)[share - 1] for share in (50, 95))
    verdict = "yes" if p95 < TARGET else "NO"
    out.write(f"{PHONES} phones, {len(took)} writes, {len(wrong)} wrong answers\n")
    out.write(f"median {p50:.0f} ms, p95 {p95:.0f} ms, most {1000 * max(took):.0f} ms\n")
    out.write(f"p95 under {TARGET} ms: {verdict}\n")


def tap_body(facts: dict[str, Any]) -> tuple[str, str]:
    """The id of a new rep, and the request that hands it over."""
    key = str(uuid.uuid4())
    return key, json.dumps({"version": 1, "taps": [_tap(key, facts)]})


def _tap(key: str, facts: dict[str, Any]) -> dict[str, Any]:
    return {
        "kind": "rep",
        "id": key,
        "practice": facts["practice"],
        "play": facts["entry"],
        "mode": "live",
        "at": "2026-09-01T16:00:00.000Z",
        "cast": facts["five"],
        "clean": True,
    }


def send(
    link: http.client.HTTPConnection, place: Hall, number: int, body: str
) -> tuple[int, dict[str, Any]]:
    headers = {
        "Content-Type": "application/json",
        "Cookie": f"{COOKIE}={place.facts['sessions'][number]}; csrftoken={TOKEN}",
        "X-CSRFToken": TOKEN,
    }
    link.request("POST", f"/teams/{place.facts['team']}/taps/", body, headers)
    response = link.getresponse()
    text = response.read()
    return response.status, json.loads(text) if response.status == 200 else {"kept": ()}
