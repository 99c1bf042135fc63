"""How long a write waits for who writes just now, where that is less than the site's own patience.

SQLite lets one write at a time, and reading never waits for it. A page that is only read, and
leaves a line behind it on the way, should not wait either: it gives up its line.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final

from django.db import connection

_SITE: Final = "timeout"  # of the database's options: SQLite's patience, in seconds


@contextmanager
def patient_for(seconds: float) -> Iterator[None]:
    """Within, a write that cannot begin after this time raises DatabaseError.

    To be entered outside of a transaction of one's own. PostgreSQL knows no patience of nothing:
    there it is a thousandth of a second at least.
    """
    milliseconds = round(1000 * seconds)
    if connection.vendor == "sqlite":
        usual = round(1000 * float(connection.settings_dict["OPTIONS"][_SITE]))
        _say(f"PRAGMA busy_timeout = {milliseconds}")
        again = f"PRAGMA busy_timeout = {usual}"
    else:
        _say(f"SET lock_timeout = {max(1, milliseconds)}")
        again = "SET lock_timeout = DEFAULT"
    try:
        yield
    finally:
        _say(again)


def _say(sentence: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(sentence)
