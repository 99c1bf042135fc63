"""A federation's worth of rows, and what the heaviest pages take with them.

The rows are made by the database itself, in bulk, in an empty one: what COACHBOOK_DATABASE
names, else a scratch file. The pages are then asked for without a network, cold, warm and of
other teams, by somebody who runs the club. Every query of a page is explained, and a large table
that is read from end to end is told: that page grows with the federation. What COACHBOOK_DATABASE
names is then served by two processes, and it is told how much they bear (federation_served.py).
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from time import perf_counter, process_time
from typing import TYPE_CHECKING, Any, Final, TextIO

from coachbook.benchmarks.federation_rows import CARRIED, changes_made, reps_made
from coachbook.benchmarks.federation_served import SECONDS, served
from coachbook.benchmarks.pages import queries_of, timed
from coachbook.benchmarks.plans import large_tables, read_whole
from coachbook.benchmarks.scratch import measured_by

if TYPE_CHECKING:
    from django.test import Client

    from roster.models import Team

SLOW: Final = 300.0  # milliseconds, for any page
LARGE: Final = 20_000  # rows: to read all of such a table is told
UNUSABLE: Final = "!"  # a password that no word is; the framework's sign for it
PLAYERS: Final = 15  # of a team
PRACTICES: Final = 60  # of a team
OTHERS: Final = 10  # teams that were never asked for before
LEADS: Final = "leads"  # how the head coaches sign in, before their number


@dataclass(frozen=True)
class Heavy:
    """A page: milliseconds cold, warm, and the most that it took for a team never asked for before,
    those that this process computed and those that it waited for the database, its queries, and
    large tables that were read whole."""

    page: str
    cold: float
    warm: float
    others: float
    computed: float
    waited: float
    queries: int
    scans: list[str]


def run(
    out: TextIO, teams: int, reps: int, *, filled: bool = False, seconds: float = SECONDS
) -> None:
    """Build, measure, and write a table. Raises CalledProcessError for a database with a club.

    ``filled``: measure once more what this command has built before. ``seconds``: how long it is
    served.
    """
    told = measured_by(__name__, teams, reps, filled, seconds)
    lines = [f"{told['rows']}; load {os.getloadavg()[0]:.1f}, {os.cpu_count()} cores\n"]
    lines.append(
        f"{'page':14}{'cold ms':>9}{'warm ms':>9}{'others ms':>11}{'own ms':>9}{'waits ms':>9}"
        f"{'queries':>9}  read whole\n"
    )
    for each in told["pages"]:
        page = Heavy(**each)
        mark = " slow" if max(page.warm, page.others) > SLOW else ""
        lines.append(
            f"{page.page:14}{page.cold:9.0f}{page.warm:9.0f}{page.others:11.0f}{page.computed:9.0f}"
            f"{page.waited:9.0f}{page.queries:9}  "
            f"{', '.join(page.scans) or '-'}{mark}\n"
        )
    out.write("".join(lines))
    if told["served"]:
        write_served(out, told["served"])


def write_served(out: TextIO, told: dict[str, Any]) -> None:
    """What two processes bore at once."""
    for what in ("write", "page"):
        p50, p95, most = told[f"{what}_ms"]
        out.write(
            f"{told[f'{what}s_a_second']:.1f} {what}s a second: half within {p50:.0f} ms, 95 of "
            f"100 within {p95:.0f} ms, slowest {most:.0f} ms\n"
        )
    memory = " and ".join(f"{each:.0f}" for each in told["memory_mb"])
    out.write(
        f"{told['worked_ms']:.0f} ms of the processor an answer, both processes; memory at most "
        f"{memory} MB; wrong answers: {len(told['wrong'])}; load {told['load']:.1f}\n"
    )
    out.writelines(f"  {line}\n" for line in told["wrong"][:5])


def measured(teams: int, reps: int, filled: bool, seconds: float) -> None:
    """Build the federation, or find it, and print what its pages took: in its own process."""
    from django.test import Client  # noqa: PLC0415 - only this process needs the database

    from coachbook import serving  # noqa: PLC0415
    from roster.models import Team  # noqa: PLC0415
    from shared.models import User  # noqa: PLC0415

    serving.prepare()
    rows = _found() if filled else _built(teams, reps)
    client = Client(HTTP_HOST="localhost")
    user = User.objects.filter(runs_club=True)[0]
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    client.get("/help/")  # loads what every page needs
    every = list(Team.objects.order_by("pk"))
    first, *others = every[len(every) // 2 :: max(1, len(every) // 2 // (OTHERS + 1))][: OTHERS + 1]
    large = large_tables(LARGE)
    elsewhere = [dict(heavy_pages(team)) for team in others]
    found = [
        asdict(heavy(client, name, path, [paths[name] for paths in elsewhere], large))
        for name, path in heavy_pages(first)
    ]
    bore = served(seconds) if os.environ.get("COACHBOOK_DATABASE") else None
    sys.stdout.write(json.dumps({"rows": rows, "pages": found, "served": bore}) + "\n")


def _found() -> str:
    """What was built before; no real club's database is taken for it."""
    from shared.models import User  # noqa: PLC0415

    if not User.objects.filter(username=f"{LEADS}0", password=UNUSABLE).exists():
        raise RuntimeError("this database was not filled by this command")
    return counted()


def _built(teams: int, reps: int) -> str:
    """What is asked for, in an empty database and in no other."""
    from shared.models import Club  # noqa: PLC0415

    if Club.objects.exists():
        raise RuntimeError("there is a club in this database: name an empty one")
    return build(teams, reps)


def build(teams: int, reps: int) -> str:
    """Fill the empty database; what is in it, in words."""
    from django.db import connection, transaction  # noqa: PLC0415
    from django.utils import timezone  # noqa: PLC0415

    from coachbook.demo import factories  # noqa: PLC0415
    from coachbook.demo.files import demo_plays  # noqa: PLC0415

    factories.ClubFactory.create()
    keeper = factories.UserFactory.create(runs_club=True)
    plays = [factories.published(value, keeper) for value in list(demo_plays())[:CARRIED]]
    with transaction.atomic():
        _people(teams, plays, keeper)
    with transaction.atomic(), connection.cursor() as cursor:
        for statement in reps_made(reps, connection.vendor, timezone.localdate()):
            cursor.execute(statement)
        cursor.execute(changes_made(connection.vendor))
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    return counted()


def counted() -> str:
    """The rows that matter, in words."""
    from practice.models import Rep, RepRole  # noqa: PLC0415
    from roster.models import Player, Team  # noqa: PLC0415

    counts = (Team, Player, Rep, RepRole)
    return ", ".join(f"{model.objects.count():,} {model._meta.model_name}s" for model in counts)


def _people(teams: int, plays: list[Any], keeper: Any) -> None:
    """Teams with what ``_cast`` makes, practices to both sides of today, a game, a head coach."""
    from datetime import timedelta  # noqa: PLC0415

    from django.utils import timezone  # noqa: PLC0415

    from coachbook.demo import factories  # noqa: PLC0415
    from practice.models import Game, Practice  # noqa: PLC0415
    from roster.models import Duty, Staff, Team  # noqa: PLC0415
    from shared.models import User  # noqa: PLC0415

    today = timezone.localdate()
    made = Team.objects.bulk_create(
        factories.TeamFactory.build(name=f"Team {n}") for n in range(teams)
    )
    _cast(made, plays)
    Practice.objects.bulk_create(
        factories.PracticeFactory.build(team=team, date=today + timedelta(days=2 * (n - 45)))
        for team in made
        for n in range(PRACTICES)
    )
    Game.objects.bulk_create(
        factories.GameFactory.build(team=team, date=today + timedelta(days=10)) for team in made
    )
    coaches = User.objects.bulk_create(
        User(username=f"{LEADS}{n}", name=f"Coach {n}", password=UNUSABLE) for n in range(teams)
    )
    Staff.objects.bulk_create(
        Staff(team=team, user=coach, duty=Duty.HEAD)
        for team, coach in zip(made, coaches, strict=True)
    )
    factories.StaffFactory.create(team=made[0], user=keeper)


def _cast(teams: list[Any], plays: list[Any]) -> None:
    """Players of each team, and its package with first and second in every role."""
    from coachbook.demo import factories  # noqa: PLC0415
    from plays.core.play import ROLES  # noqa: PLC0415
    from roster.models import Casting, PackagePlay, Player  # noqa: PLC0415

    players = Player.objects.bulk_create(
        factories.PlayerFactory.build(team=team, number=str(n))
        for team in teams
        for n in range(PLAYERS)
    )
    entries = PackagePlay.objects.bulk_create(
        factories.PackagePlayFactory.build(team=team, play=play, revision=play.current)
        for team in teams
        for play in plays
    )
    Casting.objects.bulk_create(
        Casting(
            entry=entry,
            role=role,
            depth=depth,
            player=players[at // CARRIED * PLAYERS + (at + n + 5 * depth) % PLAYERS],
        )
        for at, entry in enumerate(entries)
        for depth in (1, 2)
        for n, role in enumerate(ROLES)
    )


def heavy_pages(team: Team) -> Iterator[tuple[str, str]]:
    """The pages with most behind them."""
    from django.urls import reverse  # noqa: PLC0415

    practice = team.practices.filter(reps__isnull=False).order_by("-date")[0]
    player = team.players.present()[0]
    game = team.games.all()[0]
    for name, arguments in (
        ("home", ()),
        ("library", ()),
        ("team", (team.pk,)),
        ("roster", (team.pk,)),
        ("cast", (team.pk,)),
        ("coverage", (team.pk,)),
        ("readiness", (team.pk,)),
        ("practices", (team.pk,)),
        ("sheets", (team.pk,)),
        ("held-reps", (team.pk,)),
        ("log", (practice.pk,)),
        ("practice", (practice.pk,)),
        ("sheet", (player.pk,)),
        ("install", (game.pk,)),
        ("the-five", (team.pk,)),
        ("calendar", (team.pk,)),
        ("player-data", (player.pk,)),
        ("team-record", (team.pk,)),
        ("club-record", ()),
    ):
        yield name, reverse(name, args=arguments)


def heavy(client: Client, page: str, path: str, others: list[str], large: set[str]) -> Heavy:
    """One page, first and again, of other teams, and what its queries read whole."""
    cold, _ = timed(client, path)
    warm = min(timed(client, path)[0] for _ in range(5))
    elsewhere = max((timed(client, each)[0] for each in others), default=warm)
    computed, waited = min(worked(client, path) for _ in range(5))
    asked = queries_of(client, path)
    return Heavy(
        page, cold, warm, elsewhere, computed, waited, len(asked), read_whole(asked, large)
    )


def worked(client: Client, path: str) -> tuple[float, float]:
    """Milliseconds of the processor for one answer, and those that its queries took."""
    from django.db import connection  # noqa: PLC0415

    waits: list[float] = []

    def clock(execute: Any, *asked: Any) -> Any:
        begun = perf_counter()
        answer = execute(*asked)
        waits.append(perf_counter() - begun)
        return answer

    begun = process_time()
    with connection.execute_wrapper(clock):
        client.get(path)
    return 1000 * (process_time() - begun), 1000 * sum(waits)
