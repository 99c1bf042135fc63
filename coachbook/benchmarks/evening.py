"""A hall's evening on one machine: four of the staff log and look things up, sixty phones read.

The demo club is served by `start` in a scratch folder, in a process of its own; phones and
staff are threads of this one and reach it over the loopback. Each waits between two requests as
a person does, so that what is measured is an answer and not a queue of the client's own making.
Times are those of the client: from the request to the last byte.
"""

from __future__ import annotations

import json
import os
import random
import re
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, TextIO

from coachbook.benchmarks.callers import KINDS, Caller, Meter, middle_and_slow, plain
from coachbook.benchmarks.courtside import COOKIE, TOKEN, Hall, free_port, tap_body

if TYPE_CHECKING:
    from roster.models import Team

STAFF: Final = 4
PHONES: Final = 60
SECONDS: Final = 60.0
WAITS: Final = {"phone": (2.0, 8.0), "staff": (1.0, 3.0)}  # seconds between two requests
TARGET: Final = 150  # milliseconds, for 95 of 100 pages
OWN_PAGE: Final = re.compile(rb'href="(/my/[^"#?]+)"')


def evening_club() -> None:
    """Build the club and print what the callers need. Runs in the scratch folder's own process."""
    from django.test import Client  # noqa: PLC0415 - only this process needs the database
    from django.utils import timezone  # noqa: PLC0415

    from coachbook import serving  # noqa: PLC0415
    from coachbook.demo import factories  # noqa: PLC0415
    from coachbook.demo.build import build_demo  # noqa: PLC0415
    from roster.models import Player, Team  # noqa: PLC0415
    from roster.squad.links import bind, link_for, new_phone, path_of_player  # noqa: PLC0415

    now = timezone.now()
    serving.prepare()
    build_demo(timezone.localdate())
    team = Team.objects.order_by("pk")[0]
    sessions = []
    for _ in range(STAFF):
        user = factories.UserFactory.create()
        factories.StaffFactory.create(team=team, user=user, duty="assistant")
        client = Client()
        client.force_login(user, "django.contrib.auth.backends.ModelBackend")
        sessions.append(client.cookies[COOKIE].value)
    phones = []
    for player in Player.objects.present().order_by("pk"):
        for guardians in (False, True):
            link, phone = link_for(player, now, guardians=guardians), new_phone()
            bind(link, phone, now)
            phones.append({"path": path_of_player(link), "phone": phone})
    entry = team.package.all().carried()[0]
    five = {c.role: c.player_id for c in entry.castings.filter(depth=1)}
    facts = {
        "team": team.pk,
        "practice": _practice_of_today(team),
        "entry": entry.pk,
        "five": five,
        "players": list(five.values()),
        "sessions": sessions,
        "phones": phones,
    }
    sys.stdout.write(json.dumps(facts) + "\n")


def _practice_of_today(team: Team) -> int:
    from django.utils import timezone  # noqa: PLC0415 - only the scratch folder's own process

    from coachbook.demo.factories import PracticeFactory  # noqa: PLC0415

    today = timezone.localdate()
    found = team.practices.filter(date=today, cancelled=False).first()
    return int((found or PracticeFactory.create(team=team, date=today)).pk)


def staff_pages(facts: dict[str, Any]) -> list[str]:
    """What the staff looks up in an evening."""
    team = f"/teams/{facts['team']}/"
    return [
        *("/", team, f"/court/{facts['practice']}/"),
        *(team + name for name in ("roster/", "package/", "cast/", "readiness/", "sheets/")),
        *(f"/players/{pk}/sheet/" for pk in facts["players"][:2]),
    ]


def phone_turns(caller: Caller, first: str, chance: random.Random) -> Iterator[None]:
    """The player's first page, then one of the plays that it leads to, and so on."""
    plays: list[str] = []
    while True:
        page = caller.ask(KINDS[0], first)
        plays = plays_of(page, first) or plays  # an unchanged page is empty
        yield
        if plays:
            caller.ask(KINDS[0], chance.choice(plays))
            yield


def staff_turns(caller: Caller, facts: dict[str, Any], chance: random.Random) -> Iterator[None]:
    """Two reps, and then something looked up, and so on."""
    pages = staff_pages(facts)
    while True:
        for _ in range(2):
            key, body = tap_body(facts)
            told = caller.ask(KINDS[2], f"/teams/{facts['team']}/taps/", body)
            if key.encode() not in plain(told):
                caller.meter.wrong.append("a rep was not kept")
            yield
        caller.ask(KINDS[1], chance.choice(pages))
        yield


def evening(place: Hall, meter: Meter, seconds: float) -> None:
    """Everybody at once for so many seconds; a sixth more before it is not counted."""
    ended = threading.Event()
    threads = [threading.Thread(target=one, args=(ended,)) for one in _callers(place, meter)]
    for thread in threads:
        thread.start()
    time.sleep(seconds / 6)
    meter.clear()
    meter.cpu = -cpu_seconds(place)
    time.sleep(seconds)
    meter.cpu += cpu_seconds(place)
    ended.set()
    for thread in threads:
        thread.join()


def warm_up(place: Hall, meter: Meter) -> None:
    """Every page once, one after the other: what is drawn once a day is drawn then."""
    facts = place.facts
    for phone in facts["phones"]:
        caller = Caller(place.port, f"phone={phone['phone']}", meter)
        for path in plays_of(caller.ask(KINDS[0], phone["path"]), phone["path"]):
            caller.ask(KINDS[0], path)
        caller.close()
    staff = Caller(place.port, f"{COOKIE}={facts['sessions'][0]}", meter)
    for path in staff_pages(facts):
        staff.ask(KINDS[1], path)
    staff.close()


def plays_of(page: bytes, first: str) -> list[str]:
    """Where a player's first page leads to, beside itself."""
    found = {each.decode() for each in OWN_PAGE.findall(plain(page))}
    return sorted(found - {first})


def _callers(place: Hall, meter: Meter) -> Iterator[Callable[[threading.Event], None]]:
    facts = place.facts
    for number in range(STAFF):
        chance = random.Random(number)  # noqa: S311 - the same load every time, no secret
        cookie = f"{COOKIE}={facts['sessions'][number]}; csrftoken={TOKEN}"
        caller = Caller(place.port, cookie, meter)
        yield _person(caller, staff_turns(caller, facts, chance), WAITS["staff"], chance)
    for number in range(PHONES):
        chance = random.Random(100 + number)  # noqa: S311 - see above
        phone = facts["phones"][number % len(facts["phones"])]
        caller = Caller(place.port, f"phone={phone['phone']}", meter)
        turns = phone_turns(caller, phone["path"], chance)
        yield _person(caller, turns, WAITS["phone"], chance)


def _person(
    caller: Caller, turns: Iterator[None], waits: tuple[float, float], chance: random.Random
) -> Callable[[threading.Event], None]:
    def act(ended: threading.Event) -> None:
        while not ended.wait(chance.uniform(*waits)):
            next(turns)
        caller.close()

    return act


def run(out: TextIO, seconds: float = SECONDS) -> None:
    """Serve, let everybody at it, and write what it took."""
    meter = Meter()
    with tempfile.TemporaryDirectory(prefix="coachbook-evening-") as folder:
        place = Hall(Path(folder) / "data", free_port())
        place.facts = json.loads(
            place.run("from coachbook.benchmarks.evening import evening_club; evening_club()")
        )
        place.start()
        try:
            warm_up(place, meter)
            before = os.getloadavg()[0]
            evening(place, meter, seconds)
            memory = most_memory(place)
        finally:
            place.kill()
    out.write(
        f"{STAFF} staff, {PHONES} phones, {seconds:.0f} s; {os.cpu_count()} cores, "
        f"load {before:.1f} before and {os.getloadavg()[0]:.1f} after\n"
    )
    write_times(out, meter, seconds)
    out.write(f"wrong answers: {len(meter.wrong)}; memory of the server at most {memory:.0f} MB\n")
    out.writelines(f"  {line}\n" for line in meter.wrong[:5])


def write_times(out: TextIO, meter: Meter, seconds: float) -> None:
    """A row for each kind of answer, and what the server's processor worked at all of them."""
    out.write(f"{'':22}{'answers':>9}{'per s':>8}{'p50 ms':>8}{'p95 ms':>8}{'most':>8}\n")
    for kind, took in meter.took.items():
        cells = "".join(f"{1000 * each:8.0f}" for each in (*middle_and_slow(took), max(took)))
        out.write(f"{kind:22}{len(took):9}{len(took) / seconds:8.1f}{cells}\n")
    pages = [each for kind in KINDS[:2] for each in meter.took[kind]]
    p95 = 1000 * middle_and_slow(pages)[1]
    verdict = "yes" if p95 < TARGET else "NO"
    out.write(f"95 of 100 pages under {TARGET} ms: {verdict} ({p95:.0f} ms)\n")
    answers = sum(map(len, meter.took.values()))
    out.write(f"processor: {meter.cpu:.1f} s, {1000 * meter.cpu / answers:.0f} ms an answer\n")


def cpu_seconds(place: Hall) -> float:
    """What the server's process has computed so far; 0 where the system does not tell."""
    assert place.process is not None
    told = Path(f"/proc/{place.process.pid}/stat")
    if not told.exists():
        return 0.0
    facts = told.read_text("ascii").rpartition(")")[2].split()
    return (int(facts[11]) + int(facts[12])) / os.sysconf("SC_CLK_TCK")


def most_memory(place: Hall) -> float:
    """Megabytes that the server's process ever held; 0 where the system does not tell."""
    assert place.process is not None
    status = Path(f"/proc/{place.process.pid}/status")
    found = re.search(r"VmHWM:\s*(\d+) kB", status.read_text("ascii")) if status.exists() else None
    return int(found[1]) / 1000 if found else 0.0
