"""A federation's database behind two server processes: writes a second, pages, errors, memory.

Staff of as many teams log reps as fast as they are answered, while others open pages one after the
other; half of each at either process. So this is what the two bear at the most, and the times are
those of a site that is never idle. SQLite is not served here: one process is what it is for.
"""

from __future__ import annotations

import json
import os
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from coachbook.benchmarks.callers import KINDS, Caller, Meter, middle_and_slow, plain
from coachbook.benchmarks.courtside import COOKIE, TOKEN, Hall, free_port, tap_body
from coachbook.benchmarks.evening import cpu_seconds, most_memory

if TYPE_CHECKING:
    from roster.models import Team

PROCESSES: Final = 2
WRITERS: Final = 4  # people who log, each for a team of their own
READERS: Final = 4  # people who open pages
SECONDS: Final = 20.0


def served(seconds: float) -> dict[str, Any]:
    """Serve the database of this process, and what it bore. Needs COACHBOOK_DATABASE."""
    from django.conf import settings  # noqa: PLC0415 - only the scratch process has it

    people = list(_people(WRITERS + READERS))
    with _processes(Path(settings.DATA), settings.SECRET_KEY) as places:
        meter = Meter()
        ended = threading.Event()
        threads = [
            threading.Thread(
                target=_write if n < WRITERS else _read,
                args=(Caller(places[n % PROCESSES].port, cookie, meter), facts, meter, ended),
            )
            for n, (cookie, facts) in enumerate(people)
        ]
        for thread in threads:
            thread.start()
        time.sleep(seconds / 4)  # what every page needs is loaded then
        meter.clear()
        before = sum(map(cpu_seconds, places))
        time.sleep(seconds)
        worked = sum(map(cpu_seconds, places)) - before
        ended.set()
        for thread in threads:
            thread.join()
        return _facts(meter, seconds, worked, [most_memory(place) for place in places])


def _facts(meter: Meter, seconds: float, worked: float, memory: list[float]) -> dict[str, Any]:
    pages, writes = meter.took[KINDS[1]], meter.took[KINDS[2]]
    return {
        "writes_a_second": len(writes) / seconds,
        "pages_a_second": len(pages) / seconds,
        "write_ms": [1000 * each for each in (*middle_and_slow(writes), max(writes))],
        "page_ms": [1000 * each for each in (*middle_and_slow(pages), max(pages))],
        "worked_ms": 1000 * worked / (len(writes) + len(pages)),
        "wrong": meter.wrong,
        "memory_mb": memory,
        "load": os.getloadavg()[0],
    }


def _people(count: int) -> Iterator[tuple[str, dict[str, Any]]]:
    """The cookie of a head coach who is signed in, and what there is to log and to open."""
    from django.test import Client  # noqa: PLC0415
    from django.urls import reverse  # noqa: PLC0415

    from roster.models import Team  # noqa: PLC0415

    for team in Team.objects.order_by("pk")[:count]:
        client = Client()
        coach = team.staff_places.all()[0].user
        client.force_login(coach, "django.contrib.auth.backends.ModelBackend")
        names = ("team", "roster", "cast", "practices", "readiness", "coverage", "sheets")
        facts = _to_log(team) | {"pages": [reverse(name, args=[team.pk]) for name in names]}
        yield f"{COOKIE}={client.cookies[COOKIE].value}; csrftoken={TOKEN}", facts


def _to_log(team: Team) -> dict[str, Any]:
    entry = team.package.all().carried()[0]
    five = {c.role: c.player_id for c in entry.castings.filter(depth=1)}
    practice = team.practices.filter(reps__isnull=False)[0]
    return {"team": team.pk, "practice": practice.pk, "entry": entry.pk, "five": five}


@contextmanager
def _processes(data: Path, key: str) -> Iterator[list[Hall]]:
    common = {name: os.environ[name] for name in ("COACHBOOK_DATABASE",)}
    common["COACHBOOK_SECRET_KEY"] = key
    made = [Hall(data / str(n), free_port(), settings=common) for n in range(PROCESSES)]
    try:
        for place in made:
            place.start()
        yield made
    finally:
        for place in made:
            place.kill()


def _write(caller: Caller, facts: dict[str, Any], meter: Meter, ended: threading.Event) -> None:
    while not ended.is_set():
        key, body = tap_body(facts)
        told = caller.ask(KINDS[2], f"/teams/{facts['team']}/taps/", body)
        if key not in _kept(told):
            meter.wrong.append("a rep was not kept")
    caller.close()


def _read(caller: Caller, facts: dict[str, Any], _meter: Meter, ended: threading.Event) -> None:
    while not ended.is_set():
        for path in facts["pages"]:
            caller.ask(KINDS[1], path)
    caller.close()


def _kept(told: bytes) -> list[str]:
    try:
        answer = json.loads(plain(told))
    except ValueError:
        return []
    return [*answer["kept"], *answer["held"]]
