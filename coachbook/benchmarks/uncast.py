"""What plays that nobody is cast in cost: *The five*, *Coverage* and the cast of forty plays.

Two teams of fifteen in one scratch club carry the same forty plays: one has three deep in each
role, the other has nobody in twenty of them and holes in ten more. Their pages are asked for in
turn; what counts is the processor's time of the whole process, which a busy machine does not
lengthen.
"""

from __future__ import annotations

import json
import statistics
import sys
from collections.abc import Iterator
from dataclasses import replace
from time import process_time
from typing import TYPE_CHECKING, Final, TextIO

from coachbook.benchmarks.pages import timed
from coachbook.benchmarks.scratch import measured_by
from plays.core.play import ROLES

if TYPE_CHECKING:
    from roster.models import Casting, PackagePlay, Player, Team

PLAYERS: Final = 15
PLAYS: Final = 40
UNCAST: Final = 20
HOLED: Final = 10
DEPTHS: Final = (1, 2, 3)
REPEATS: Final = 9
TARGET: Final = 0.3  # seconds
PAGES: Final = ("the-five", "coverage", "cast", "package")


def run(out: TextIO) -> None:
    """Measures and writes a table: processor seconds of an answer, the median of some."""
    out.write(f"{PLAYERS} players, {PLAYS} plays; under {TARGET} s is wanted\n")
    out.write(f"{'page':12}{'all cast':>12}{f'{UNCAST} uncast':>12}\n")
    out.writelines(
        f"{page:12}{whole:10.3f} s{holed:10.3f} s\n" for page, whole, holed in measured_by(__name__)
    )


def measured() -> None:
    """Build the club and print what its pages took. Runs in the scratch folder's own process."""
    from django.test import Client  # noqa: PLC0415 - only this process needs the database

    from coachbook import serving  # noqa: PLC0415
    from coachbook.demo import factories  # noqa: PLC0415

    serving.prepare()
    factories.ClubFactory.create()
    user = factories.UserFactory.create(runs_club=True)
    client = Client(HTTP_HOST="localhost")
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    teams = [carrying(uncast=0, holed=0), carrying(uncast=UNCAST, holed=HOLED)]
    rows = []
    for page in PAGES:
        times: list[list[float]] = [[], []]
        for _ in range(1 + REPEATS):  # the first answer reads the plays
            for team, took in zip(teams, times, strict=True):
                begun = process_time()
                timed(client, path_of(page, team))
                took.append(process_time() - begun)
        rows.append((page, *(statistics.median(took[1:]) for took in times)))
    sys.stdout.write(json.dumps(rows) + "\n")


def path_of(page: str, team: Team) -> str:
    """A team's page; of *The five* that with five players on, whoever is cast."""
    from django.urls import reverse  # noqa: PLC0415

    path = reverse(page, args=[team.pk])
    on = "&".join(f"on={player.pk}" for player in team.players.all()[: len(ROLES)])
    return f"{path}?{on}" if page == "the-five" else path


def carrying(*, uncast: int, holed: int) -> Team:
    """A team with all plays in its package, some without a cast, some with no one in role 1."""
    from coachbook.demo import factories  # noqa: PLC0415
    from coachbook.demo.files import demo_plays  # noqa: PLC0415
    from plays.models import Play  # noqa: PLC0415
    from roster.models import Casting  # noqa: PLC0415

    team = factories.TeamFactory.create()
    squad = [factories.PlayerFactory.create(team=team) for _ in range(PLAYERS)]
    values = list(demo_plays())
    for n in range(PLAYS):
        value = replace(values[n % len(values)], key=f"play-{n}", name=f"Play {n}")
        play = Play.objects.filter(key=value.key).first() or factories.published(value)
        entry = factories.PackagePlayFactory.create(team=team, play=play, call=f"Call {n}")
        if n >= uncast:
            Casting.objects.bulk_create(_cast(entry, squad, n, holed=n < uncast + holed))
    return team


def _cast(entry: PackagePlay, squad: list[Player], n: int, *, holed: bool) -> Iterator[Casting]:
    from roster.models import Casting as Place  # noqa: PLC0415

    for depth in DEPTHS:
        for at, role in enumerate(ROLES[1:] if holed else ROLES):
            player = squad[(at + len(ROLES) * (depth - 1) + n) % PLAYERS]
            yield Place(entry=entry, role=role, depth=depth, player=player)
