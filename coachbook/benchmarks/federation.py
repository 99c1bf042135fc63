"""A federation's worth of rows, and what the heaviest pages take with them.

The rows are made by the database itself, in bulk, in an empty one: what COACHBOOK_DATABASE
names, else a scratch file. The pages are then asked for without a network, cold and warm, by
somebody who runs the club. Every query of a page is explained, and a large table that is read from
end to end is told: that page grows with the federation.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import date
from time import process_time
from typing import TYPE_CHECKING, Any, Final, TextIO

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
CARRIED: Final = 8  # plays of a team
PRACTICES: Final = 60  # of a team
SIZE: Final = "COACHBOOK_FEDERATION"  # teams and reps, handed to the scratch process


@dataclass(frozen=True)
class Heavy:
    """A page: milliseconds cold and warm, those that this process computed, its queries, and
    large tables that were read whole."""

    page: str
    cold: float
    warm: float
    computed: float
    queries: int
    scans: list[str]


def run(out: TextIO, teams: int, reps: int) -> None:
    """Build, measure, and write a table. Raises CalledProcessError for a database with a club."""
    os.environ[SIZE] = f"{teams} {reps}"
    told = measured_by(__name__)
    lines = [f"{told['rows']}; load {os.getloadavg()[0]:.1f}, {os.cpu_count()} cores\n"]
    lines.append(
        f"{'page':14}{'cold ms':>9}{'warm ms':>9}{'own ms':>9}{'queries':>9}  read whole\n"
    )
    for each in told["pages"]:
        page = Heavy(**each)
        mark = " slow" if page.warm > SLOW else ""
        lines.append(
            f"{page.page:14}{page.cold:9.0f}{page.warm:9.0f}{page.computed:9.0f}"
            f"{page.queries:9}  "
            f"{', '.join(page.scans) or '-'}{mark}\n"
        )
    out.write("".join(lines))


def measured() -> None:
    """Build the federation and print what its pages took. Runs in a process of its own."""
    from django.test import Client  # noqa: PLC0415 - only this process needs the database

    from coachbook import serving  # noqa: PLC0415
    from roster.models import Team  # noqa: PLC0415
    from shared.models import Club, User  # noqa: PLC0415

    teams, reps = map(int, os.environ[SIZE].split())
    serving.prepare()
    if Club.objects.exists():
        raise RuntimeError("there is a club in this database: name an empty one")
    rows = build(teams, reps)
    client = Client(HTTP_HOST="localhost")
    user = User.objects.filter(runs_club=True)[0]
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    client.get("/help/")  # loads what every page needs
    team = Team.objects.order_by("pk")[teams // 2]
    large = large_tables(LARGE)
    found = [asdict(heavy(client, name, path, large)) for name, path in heavy_pages(team)]
    sys.stdout.write(json.dumps({"rows": rows, "pages": found}) + "\n")


def build(teams: int, reps: int) -> str:
    """Fill the empty database; what is in it, in words."""
    from django.db import connection, transaction  # noqa: PLC0415
    from django.utils import timezone  # noqa: PLC0415

    from coachbook.demo import factories  # noqa: PLC0415
    from coachbook.demo.files import demo_plays  # noqa: PLC0415
    from practice.models import Rep, RepRole  # noqa: PLC0415
    from roster.models import Player, Team  # noqa: PLC0415

    factories.ClubFactory.create()
    keeper = factories.UserFactory.create(runs_club=True)
    plays = [factories.published(value, keeper) for value in list(demo_plays())[:CARRIED]]
    with transaction.atomic():
        _people(teams, plays, keeper)
    with transaction.atomic(), connection.cursor() as cursor:
        for statement in _reps(reps, connection.vendor, timezone.localdate()):
            cursor.execute(statement)
        cursor.execute(_changes(connection.vendor))
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE")
    counts = (Team, Player, Rep, RepRole)
    return ", ".join(f"{model.objects.count():,} {model._meta.model_name}s" for model in counts)


def _people(teams: int, plays: list[Any], keeper: Any) -> None:
    """Teams with players, a package with its cast, practices to both sides of today, a game."""
    from datetime import timedelta  # noqa: PLC0415

    from django.utils import timezone  # noqa: PLC0415

    from coachbook.demo import factories  # noqa: PLC0415
    from plays.core.play import ROLES  # noqa: PLC0415
    from practice.models import Game, Practice  # noqa: PLC0415
    from roster.models import Casting, Duty, PackagePlay, Player, Staff, Team  # noqa: PLC0415
    from shared.models import User  # noqa: PLC0415

    today = timezone.localdate()
    made = Team.objects.bulk_create(
        factories.TeamFactory.build(name=f"Team {n}") for n in range(teams)
    )
    players = Player.objects.bulk_create(
        factories.PlayerFactory.build(team=team, number=str(n))
        for team in made
        for n in range(PLAYERS)
    )
    entries = PackagePlay.objects.bulk_create(
        factories.PackagePlayFactory.build(team=team, play=play, revision=play.current)
        for team in made
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
    Practice.objects.bulk_create(
        factories.PracticeFactory.build(team=team, date=today + timedelta(days=2 * (n - 45)))
        for team in made
        for n in range(PRACTICES)
    )
    Game.objects.bulk_create(
        factories.GameFactory.build(team=team, date=today + timedelta(days=10)) for team in made
    )
    coaches = User.objects.bulk_create(
        User(username=f"leads{n}", name=f"Coach {n}", password=UNUSABLE) for n in range(teams)
    )
    Staff.objects.bulk_create(
        Staff(team=team, user=coach, duty=Duty.HEAD)
        for team, coach in zip(made, coaches, strict=True)
    )
    factories.StaffFactory.create(team=made[0], user=keeper)


def _reps(reps: int, vendor: str, today: date) -> tuple[str, ...]:
    """Statements that make reps of past practices, their roles and the sums of both."""
    key, hour = {
        "postgresql": ("gen_random_uuid()", "p.date + time '18:00' + n * interval '1 minute'"),
        "sqlite": ("lower(hex(randomblob(16)))", "datetime(p.date, '+18 hours', n || ' minutes')"),
    }[vendor]
    past = 46  # practices of each team until today, see above
    numbers = "WITH RECURSIVE numbers(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM numbers"
    each = f"{numbers} WHERE n < (SELECT {reps} / count(*) / {past} FROM roster_team))"  # noqa: S608 - whole numbers of ours
    by_team = "SELECT *, row_number() OVER (PARTITION BY team_id ORDER BY id) AS turn FROM"
    return (
        f"""INSERT INTO practice_rep (id, practice_id, entry_id, revision_id, mode, is_clean,
            erred, slip, at, received_at)
        {each}
        SELECT {key}, p.id, e.id, e.revision_id,
            CASE n % 3 WHEN 0 THEN 'live' WHEN 1 THEN 'half_speed' ELSE 'walk_through' END,
            n % 4 <> 0, '', '', {hour}, {hour}
        FROM ({by_team} practice_practice) p CROSS JOIN numbers
        JOIN ({by_team} roster_packageplay) e
            ON e.team_id = p.team_id AND e.turn = 1 + (n + p.turn) % {CARRIED}
        WHERE p.date <= '{today.isoformat()}'""",  # noqa: S608 - nothing of a visitor's
        """INSERT INTO practice_reprole (rep_id, role, player_id)
        SELECT r.id, c.role, c.player_id FROM practice_rep r
        JOIN roster_casting c ON c.entry_id = r.entry_id AND c.depth = 1""",
        """INSERT INTO practice_repsum (practice_id, entry_id, player_id, role, mode, is_clean,
            count, first_at)
        SELECT r.practice_id, r.entry_id, o.player_id, o.role, r.mode, r.is_clean, count(*),
            min(r.at)
        FROM practice_rep r JOIN practice_reprole o ON o.rep_id = r.id
        GROUP BY r.practice_id, r.entry_id, o.player_id, o.role, r.mode, r.is_clean""",
    )


def _changes(vendor: str) -> str:
    """A statement that makes a record of every team: its coaches have entered each practice."""
    day = {"postgresql": "p.date + time '12:00'", "sqlite": "datetime(p.date, '+12 hours')"}[vendor]
    return f"""INSERT INTO shared_change (at, user_id, verb, subject, team)
        SELECT {day}, s.user_id, 'added practice', 'practice ' || p.id, p.team_id
        FROM practice_practice p JOIN roster_staff s ON s.team_id = p.team_id"""  # noqa: S608 - ours


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


def heavy(client: Client, page: str, path: str, large: set[str]) -> Heavy:
    """One page, first and again, and what its queries read whole."""
    cold, _ = timed(client, path)
    warm = min(timed(client, path)[0] for _ in range(5))
    begun = process_time()
    client.get(path)
    computed = 1000 * (process_time() - begun)
    asked = queries_of(client, path)
    return Heavy(page, cold, warm, computed, len(asked), read_whole(asked, large))
