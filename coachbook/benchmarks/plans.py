"""Which large tables a page's queries read from end to end, as the database itself explains it.

PostgreSQL by ``EXPLAIN (FORMAT JSON)``, SQLite by ``EXPLAIN QUERY PLAN`` (sqlite.org/eqp.html: SCAN
reads all rows, SEARCH only some). To go through an index in its order until a LIMIT is reached
reads little; to go through all of it is to read the table.
"""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Iterator, Sequence
from typing import Any, Final

Asked = tuple[str, Any]  # a query and its parameters
_NAMED: Final = re.compile(r'(?:FROM|JOIN|,) "(\w+)"(?: "?(?!ON\b|WHERE\b|INNER\b|LEFT\b)(\w+)"?)?')
_SCAN: Final = re.compile(r'SCAN "?(\w+)"?')


def large_tables(least: int) -> set[str]:
    """The tables of this site with more rows than ``least``."""
    from django.apps import apps  # noqa: PLC0415 - needs a database

    models = [each for each in apps.get_models() if each._meta.managed]
    counts = {each._meta.db_table: each._default_manager.count() for each in models}
    return {name for name, count in counts.items() if count > least}


def read_whole(asked: Sequence[Asked], large: Collection[str]) -> list[str]:
    """Those of the large tables that some of these queries read from end to end."""
    from django.db import connection  # noqa: PLC0415

    found: set[str] = set()
    with connection.cursor() as cursor:
        for sql, params in asked:
            if not sql.lstrip().startswith("SELECT"):
                continue
            if connection.vendor == "postgresql":
                cursor.execute(f"EXPLAIN (FORMAT JSON) {sql}", params)
                told = cursor.fetchone()[0]
                plan = json.loads(told) if isinstance(told, str) else told
                found |= set(scanned(plan[0]["Plan"]))
            else:
                cursor.execute(f"EXPLAIN QUERY PLAN {sql}", params)
                found |= set(scanned_lines([str(row[3]) for row in cursor.fetchall()], sql))
    return sorted(found & set(large))


def scanned(plan: dict[str, Any], *, stops: bool = False) -> Iterator[str]:
    """The tables of a plan of PostgreSQL that are read from end to end.

    ``stops``: something above ends it early.
    """
    stops = stops or plan["Node Type"] == "Limit"
    by_index = plan["Node Type"] in {"Index Scan", "Index Only Scan"}
    through = by_index and "Index Cond" not in plan and not stops
    if plan["Node Type"] == "Seq Scan" or through:
        yield plan["Relation Name"]
    sorts = plan["Node Type"] in {"Sort", "Aggregate", "Hash"}  # which read all before they answer
    for each in plan.get("Plans", ()):
        yield from scanned(each, stops=stops and not sorts)


def scanned_lines(lines: Sequence[str], sql: str) -> Iterator[str]:
    """The same of a plan of SQLite, whose lines name a table as the query does."""
    is_short = sql.count("SELECT") == 1 and " LIMIT " in sql and " WHERE " not in sql
    if is_short and not any("TEMP B-TREE" in line for line in lines):
        return  # the newest few, in the order of an index or of the rows
    tables: dict[str, str] = {other or table: table for table, other in _NAMED.findall(sql)}
    for line in lines:
        if found := _SCAN.match(line):
            name = str(found[1])
            yield tables.get(name, name)
