"""How long the server works at a page: seen for the first time, again, and when nothing changed.

The demo club is built in a scratch folder by a process of its own, and its pages are asked for
there without a network: cold (nothing kept yet), warm (the median of some repeats), and by a
browser that has the page already and is told so. Queries are those of a warm answer, and so are
the play documents that are parsed for it: a row's list of calls is a few letters, and no document.
"""

from __future__ import annotations

import json
import statistics
import sys
from collections.abc import Iterator
from time import perf_counter
from typing import TYPE_CHECKING, Any, Final, NamedTuple, TextIO
from unittest.mock import patch

from coachbook.benchmarks.scratch import measured_by

if TYPE_CHECKING:
    from django.test import Client

    from roster.models import Team

REPEATS: Final = 9
DOCUMENT: Final = 1000  # characters: no play is shorter


class Taken(NamedTuple):
    """What a page took, in milliseconds, its queries and the documents parsed."""

    page: str
    cold: float
    warm: float
    unchanged: float
    queries: int
    parsed: int


def run(out: TextIO) -> None:
    """Measures and writes a table."""
    out.write(f"{'page':18}{'cold ms':>9}{'warm ms':>9}{'304 ms':>9}{'queries':>9}{'parsed':>9}\n")
    for row in measured_by(__name__):
        took = Taken(*row)
        out.write(
            f"{took.page:18}{took.cold:9.1f}{took.warm:9.1f}{took.unchanged:9.1f}"
            f"{took.queries:9}{took.parsed:9}\n"
        )


def measured() -> None:
    """Build the club and print what its pages took. Runs in the scratch folder's own process."""
    from django.test import Client  # noqa: PLC0415 - only this process needs the database
    from django.utils import timezone  # noqa: PLC0415

    from coachbook import serving  # noqa: PLC0415
    from coachbook.demo.build import build_demo  # noqa: PLC0415
    from roster.models import Team  # noqa: PLC0415
    from shared.models import User  # noqa: PLC0415

    serving.prepare()
    build_demo(timezone.localdate())
    user = User.objects.filter(runs_club=True)[0]
    client = Client(HTTP_HOST="localhost")
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    rows = [taken(client, name, path) for name, path in pages(Team.objects.all()[0])]
    sys.stdout.write(json.dumps(rows) + "\n")


def pages(team: Team) -> Iterator[tuple[str, str]]:
    """The pages that a staff opens most, with their addresses."""
    from django.urls import reverse  # noqa: PLC0415
    from django.utils import timezone  # noqa: PLC0415

    entry = team.package.all().carried()[0]
    player = entry.castings.filter(depth=1)[0].player
    practice = team.practices.filter(reps__isnull=False)[0]
    game = team.games.filter(date__gte=timezone.localdate())[0]
    for name, arguments in (
        ("home", ()),
        ("library", ()),
        ("checks", ()),
        ("play", (entry.play.key,)),
        ("check", (entry.play.key,)),
        ("team", (team.pk,)),
        ("package", (team.pk,)),
        ("cast", (team.pk,)),
        ("coverage", (team.pk,)),
        ("sheets", (team.pk,)),
        ("readiness", (team.pk,)),
        ("sheet", (player.pk,)),
        ("sheet-pdf", (player.pk,)),
        ("log", (practice.pk,)),
        ("install", (game.pk,)),
    ):
        yield name, reverse(name, args=arguments)


def taken(client: Client, page: str, path: str) -> Taken:
    """One page, first, again, and unchanged."""
    cold, answer = timed(client, path)
    warm = statistics.median(timed(client, path)[0] for _ in range(REPEATS))
    known = {"HTTP_IF_NONE_MATCH": answer.headers["ETag"]} if "ETag" in answer.headers else {}
    unchanged = statistics.median(timed(client, path, **known)[0] for _ in range(REPEATS))
    with patch("json.loads", wraps=json.loads) as loads:
        queries = queries_of(client, path)
    parsed = sum(len(call.args[0]) >= DOCUMENT for call in loads.call_args_list)
    return Taken(page, cold, warm, unchanged, len(queries), parsed)


def queries_of(client: Client, path: str) -> list[tuple[str, Any]]:
    """What a page asks the database, with the parameters."""
    from django.db import connection  # noqa: PLC0415

    asked: list[tuple[str, Any]] = []

    def listen(execute: Any, sql: str, params: Any, *rest: Any) -> Any:
        asked.append((sql, params))
        return execute(sql, params, *rest)

    with connection.execute_wrapper(listen):
        client.get(path)
    return asked


def timed(client: Client, path: str, **headers: str) -> tuple[float, Any]:
    """Milliseconds that an answer took, and the answer. Raises RuntimeError for an error."""
    begun = perf_counter()
    answer = client.get(path, **headers)  # type: ignore[arg-type]
    took = 1000 * (perf_counter() - begun)
    if answer.status_code not in (200, 304):
        raise RuntimeError(f"{path} answers {answer.status_code}")
    return took, answer
