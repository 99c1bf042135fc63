"""What grows with a federation is found by an index: the heaviest pages, on this database."""

from __future__ import annotations

import pytest
from django.db import connection
from django.test import Client

from coachbook.benchmarks import federation, plans
from coachbook.benchmarks.pages import queries_of
from roster.models import Team
from shared.models import User

TEAMS, REPS = 40, 40 * 46 * 4
LARGE = 1_000  # rows: of forty teams' practices, casts, reps, roles, sums and changes
# Tables that have to be among the large ones, so that a page's reading of them would be seen.
GROW = {
    *("practice_practice", "practice_rep", "practice_reprole", "practice_repsum"),
    *("roster_casting", "shared_change"),
}


@pytest.fixture
def all_by_index() -> None:
    """PostgreSQL reads a small table whole by choice; here it does so only where it has to."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            for other in ("seqscan", "hashjoin", "mergejoin"):
                cursor.execute(f"SET LOCAL enable_{other} = off")


@pytest.mark.django_db
def test_no_heavy_page_reads_a_large_table_whole(all_by_index: None) -> None:
    federation.build(TEAMS, REPS)
    large = plans.large_tables(LARGE)
    assert large >= GROW
    client = Client(HTTP_HOST="localhost")
    user = User.objects.get(runs_club=True)
    client.force_login(user, "django.contrib.auth.backends.ModelBackend")
    team = Team.objects.order_by("pk")[TEAMS // 2]
    whole = {
        name: plans.read_whole(queries_of(client, path), large)
        for name, path in federation.heavy_pages(team)
    }
    assert {name: found for name, found in whole.items() if found} == {}


@pytest.mark.django_db
def test_a_query_without_an_index_is_found_on_this_database(all_by_index: None) -> None:
    federation.build(2, 2 * 46 * 4)
    found = '"practice_rep" WHERE "practice_rep"."erred" = %s'
    asked = [(f'SELECT "practice_rep"."id" FROM {found}', ["1"])]
    assert plans.read_whole(asked, {"practice_rep"}) == ["practice_rep"]
    aliased = [('SELECT r."id" FROM "practice_rep" r WHERE r."erred" = %s', ["1"])]
    assert plans.read_whole(aliased, {"practice_rep"}) == ["practice_rep"]
    by_key = [('SELECT "roster_team"."id" FROM "roster_team" WHERE "roster_team"."id" = %s', [1])]
    assert plans.read_whole(by_key, {"roster_team"}) == []


def test_a_table_read_whole_is_found_in_a_plan_of_postgresql() -> None:
    """Plans as EXPLAIN (FORMAT JSON) writes them: chapter "Using EXPLAIN" of its manual."""
    plan = {
        "Node Type": "Hash Join",
        "Plans": [
            {"Node Type": "Seq Scan", "Relation Name": "tenk2"},
            {"Node Type": "Hash", "Plans": [{"Node Type": "Bitmap Heap Scan"}]},
        ],
    }
    assert list(plans.scanned(plan)) == ["tenk2"]
    through = {"Node Type": "Index Scan", "Relation Name": "tenk1", "Filter": "(odd = 1)"}
    assert list(plans.scanned(through)) == ["tenk1"]
    assert list(plans.scanned({"Node Type": "Limit", "Plans": [through]})) == []
    sorted_first = {"Node Type": "Sort", "Plans": [through]}
    assert list(plans.scanned({"Node Type": "Limit", "Plans": [sorted_first]})) == ["tenk1"]
    found = through | {"Index Cond": "(unique1 = 42)"}
    assert list(plans.scanned(found)) == []


@pytest.mark.parametrize(
    ("line", "sql", "whole"),
    [
        # sqlite.org/eqp.html, sections 1.1 and 1.1.1
        ("SCAN t1", 'SELECT a FROM "t1" WHERE a=1', ["t1"]),
        ("SEARCH t1 USING INDEX i1 (a=?)", 'SELECT a FROM "t1" WHERE a=1', []),
        ("SCAN t1 USING COVERING INDEX i1", 'SELECT a FROM "t1"', ["t1"]),
        ("SCAN t1 USING INDEX i1", 'SELECT a FROM "t1" ORDER BY a LIMIT 5', []),
        ("SCAN t1", 'SELECT a FROM "t1" ORDER BY id DESC LIMIT 5', []),
        ("SCAN t1", 'SELECT a FROM "t1" WHERE b=1 ORDER BY id DESC LIMIT 5', ["t1"]),
        ("SCAN T3", 'SELECT a FROM "t1" T3 WHERE a=1', ["t1"]),
    ],
)
def test_a_table_read_whole_is_found_in_a_plan_of_sqlite(
    line: str, sql: str, whole: list[str]
) -> None:
    assert list(plans.scanned_lines([line], sql)) == whole
