"""Every page asks the database a constant number of times, however long the season grows.

And no page loads a play's document that this process has read before.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import date, timedelta

import pytest
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext
from pytest_django import DjangoDbBlocker

from coachbook.demo import factories
from coachbook.demo.files import demo_plays
from shared import worker
from tests.browser.test_pages import FILES, PAGES
from tests.cast import Cast, make_cast
from tests.coachbook.test_access import address

# What the pages ask is the same in every database.
pytestmark = [pytest.mark.django_db, pytest.mark.reading]

# What a visit writes down stands in the record: its page comes last.
GET_PAGES = sorted({*PAGES, *FILES} - {"sign-in"}, key=lambda name: ("record" in name, name))


def grow(cast: Cast, times: int) -> None:
    """One more round of everything that a season gathers."""
    known = set(cast.team.package.values_list("play__key", flat=True))
    fresh = [play for play in demo_plays() if play.key not in known][:times]
    for index, value in enumerate(fresh):
        entry = factories.PackagePlayFactory.create(
            team=cast.team, play=factories.published(value), call=f"Call {value.key}"
        )
        for role, player in enumerate(cast.players[:5], start=1):
            factories.CastingFactory.create(entry=entry, role=str(role), player=player)
        factories.PlayerFactory.create(team=cast.team, number=str(50 + len(known) + index))
        factories.TeamFactory.create()
        practice = factories.PracticeFactory.create(
            team=cast.team, date=date(2031, 1, 1) + timedelta(days=len(known) + index)
        )
        for page in (cast.practice, practice):
            factories.BlockFactory.create(practice=page, entry=entry, kind="install", mode="live")
            factories.RepFactory.create(
                practice=page,
                entry=entry,
                cast={str(role): who for role, who in enumerate(cast.players[:5], start=1)},
            )
    for _ in range(times):
        other = factories.OpponentFactory.create(team=cast.team)
        for opponent in (cast.opponent, other):
            factories.ObservationFactory.create(opponent=opponent)
            factories.GameFactory.create(team=cast.team, opponent=opponent.name, met=opponent)
    unit = factories.UnitFactory.create(team=cast.team)
    unit.members.set(cast.players[:5])


def queries_of(name: str, cast: Cast) -> list[str]:
    client = cast.client(cast.runner if name not in ("my-plays", "my-play") else None)
    path = address(name, cast)
    client.get(path)  # what is loaded once per process or session is not the page's own
    with CaptureQueriesContext(
        connection,
    ) as queries:
        response = client.get(path)
        if response.streaming:
            b"".join(response)
    return [query["sql"] for query in queries]


@dataclass(frozen=True, slots=True)
class Asked:
    """What each page asked the database in a small season and in one three times as long."""

    small: dict[str, list[str]]
    large: dict[str, list[str]]


@pytest.fixture(scope="module")
def asked(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Asked:
    """All pages in turn, in one season that grows: to grow one for each page takes a minute."""
    with (
        django_db_blocker.unblock(),
        transaction.atomic(),
        pytest.MonkeyPatch.context() as patch,
    ):
        patch.setattr(worker, "spawn", lambda _row: None)
        cast = make_cast()
        grow(cast, 2)
        small = {name: queries_of(name, cast) for name in GET_PAGES}
        grow(cast, 6)
        large = {name: queries_of(name, cast) for name in GET_PAGES}
        transaction.set_rollback(True)
    return Asked(small, large)


def test_as_many_queries_for_three_times_the_season(asked: Asked) -> None:
    pairs = {name: (asked.small[name], asked.large[name]) for name in GET_PAGES}
    assert {n: grown(*pair) for n, pair in pairs.items() if len(pair[0]) != len(pair[1])} == {}


def test_no_page_reads_a_document_twice(asked: Asked) -> None:
    loaded = {
        name: [sql for sql in asked.small[name] if '."document"' in sql.partition(" FROM ")[0]]
        for name in GET_PAGES
    }
    assert {name: queries for name, queries in loaded.items() if queries} == {}


def grown(small: list[str], large: list[str]) -> list[tuple[str, int, int]]:
    """The queries of which there are more or fewer, each as it begins."""
    before, after = (Counter(sql[:200] for sql in each) for each in (small, large))
    return [
        (sql, before[sql], after[sql]) for sql in {*before, *after} if before[sql] != after[sql]
    ]


# Reading these leaves a line in the record.
WRITES = {"export-roster", "player-data-file"}


def test_who_reads_asks_for_no_lock(asked: Asked) -> None:
    """SQLite lets one write at a time: a page that began a transaction would wait its turn."""
    taken = ("SAVEPOINT", "INSERT", "UPDATE", "DELETE")
    locked = {
        name: [sql for sql in asked.small[name] if sql.startswith(taken) or "FOR UPDATE" in sql]
        for name in GET_PAGES
    }
    assert {name for name, queries in locked.items() if queries} == WRITES, locked
