"""What a reader is told when a request fails, under a reference that also stands in the log.

A database that is full, shut, busy or away is no fault of the page: the answer is then 503,
after which the courtside log and other machines try again, and says so in words.
"""

from __future__ import annotations

import errno
import secrets
import sqlite3
import sys
from enum import StrEnum
from typing import Final

from django.db import DatabaseError, InterfaceError, OperationalError
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string

from coachbook.log_lines import REFERENCE

# None that is taken for another when it is read aloud: no 0 and O, no 1, I and L, no U and V.
LETTERS: Final = "23456789ABCDEFGHJKMNPQRSTWXYZ"
LONG: Final = 8  # letters: 5e11 references, and one evening has a handful
RETRY_AFTER: Final = 10  # seconds


class Lack(StrEnum):
    """What the database lacks at the moment."""

    ROOM = "room"
    LEAVE = "leave"  # it may be read and not be written
    TURN = "turn"  # another writes for too long
    ANSWER = "answer"


# SQLite's names of its primary result codes (sqlite.org/rescode.html).
_SQLITE: Final = {
    "SQLITE_FULL": Lack.ROOM,
    "SQLITE_READONLY": Lack.LEAVE,
    "SQLITE_BUSY": Lack.TURN,
    "SQLITE_LOCKED": Lack.TURN,
    "SQLITE_IOERR": Lack.ANSWER,
    "SQLITE_CANTOPEN": Lack.ANSWER,
}
# PostgreSQL's, by its appendix "PostgreSQL Error Codes".
_POSTGRESQL: Final = {
    "53100": Lack.ROOM,  # disk_full
    "25006": Lack.LEAVE,  # read_only_sql_transaction
    "55P03": Lack.TURN,  # lock_not_available
    "40001": Lack.TURN,  # serialization_failure
    "40P01": Lack.TURN,  # deadlock_detected
}
_SYSTEM: Final = {errno.ENOSPC: Lack.ROOM, errno.EDQUOT: Lack.ROOM, errno.EROFS: Lack.LEAVE}


def page_of_fault(request: HttpRequest) -> HttpResponse:
    """The answer to a request that raised: in the reader's language, without the database."""
    lack = lack_of(sys.exc_info()[1])
    context = {"lack": lack, "reference": reference_of(request)}
    answer = HttpResponse(render_to_string("500.html", context), status=503 if lack else 500)
    if lack:
        answer.headers["Retry-After"] = str(RETRY_AFTER)
    return answer


def reference_of(request: HttpRequest) -> str:
    """The name of this failed request, made when it is first asked for: ``"7K3M-Q9TD"``."""
    drawn = "".join(secrets.choice(LETTERS) for _ in range(LONG))
    return str(request.META.setdefault(REFERENCE, f"{drawn[: LONG // 2]}-{drawn[LONG // 2 :]}"))


def lack_of(fault: BaseException | None) -> Lack | None:
    """What the database or the disk lacks, told from what was raised; None for a bug."""
    if isinstance(fault, OSError):
        return _SYSTEM.get(fault.errno or 0)
    if not isinstance(fault, DatabaseError | InterfaceError):
        return None
    driver = fault.__cause__
    if isinstance(driver, sqlite3.Error):  # which calls a wrong statement operational, too
        name = str(getattr(driver, "sqlite_errorname", ""))
        return _SQLITE.get("_".join(name.split("_")[:2]))
    known = _POSTGRESQL.get(str(getattr(driver, "sqlstate", "")))
    away = isinstance(fault, OperationalError | InterfaceError)
    return known or (Lack.ANSWER if away else None)
