"""Rendered pieces of pages and papers, kept by what they show, for every process of the site.

They lie in files, under COACHBOOK_DATA or where COACHBOOK_PIECES says, and not in the database:
reading a page then never waits for a phone that logs, and a back-up does not carry pictures that
can be drawn again. A piece is known by everything that it depends on, the state of the code too,
so that it is never stale; one that nobody asks for falls out. Pieces hold names: they lie by
team, and ``drop`` removes a team's, which whoever erases a person has to call. What is being made
meanwhile, in any process, is not kept: a mark beside the team's folder says that it was dropped.
"""

from __future__ import annotations

import os
import secrets
import shutil
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, cached_property
from hashlib import sha256
from itertools import count
from pathlib import Path
from typing import Final

from django.conf import settings
from django.utils.safestring import SafeString, mark_safe

LIBRARY: Final = 0  # the place of pieces that are no team's
MOST: Final = 64_000_000  # bytes of all pieces together
OLDEST: Final = 30 * 24 * 3600  # seconds since somebody last asked for a piece
LOOK_EVERY: Final = 50  # new pieces of a process between two looks at the room they take
SOURCES: Final = (
    ("plays", "*.py"),
    ("roster", "*.py"),
    ("shared", "*.py"),
    ("templates", "*.html"),
    ("coachbook/locale", "*.mo"),
)

_made = count(1)


@dataclass(frozen=True)
class KeptPiece:
    """A piece that is read, or made, only where its bytes are sent.

    A page holds ``place`` instead, which names the piece by everything that it depends on: the
    page with the place in it says whether a browser has the whole, and costs far less.
    """

    team: int
    facts: object
    make: Callable[[], bytes]

    @cached_property
    def place(self) -> SafeString:
        """A comment of HTML that no other piece has."""
        return mark_safe(f"<!--{_path(self.team, self.facts).name}-->")  # noqa: S308 - a hash

    def put_into(self, page: bytes) -> bytes:
        """The page with the piece where its place is."""
        made = kept(self.team, self.facts, self.make)
        return page.replace(self.place.encode(), made)


def kept(team: int, facts: object, make: Callable[[], bytes]) -> bytes:
    """The piece for these facts, made where nobody has asked for it yet.

    ``facts`` is all that the piece depends on; its ``repr`` has to be the same in every process,
    so sets come sorted.
    """
    path = _path(team, facts)
    try:
        data = path.read_bytes()
        os.utime(path)
    except OSError:
        mark = _mark(team)
        data = make()
        _write(path, data)
        if _mark(team) != mark:  # dropped since: it may hold a name that is erased
            path.unlink(missing_ok=True)
    return data


def is_kept(team: int, facts: object) -> bool:
    """Whether the piece for these facts is there, without making it."""
    return _path(team, facts).exists()


def drop(team: int) -> None:
    """Remove every piece of a team: it is drawn again from what is there then.

    The mark changes first, so that a piece written meanwhile is removed here or by its writer.
    """
    root = _root()
    if root.exists():
        _place(root / f"{team}.dropped", secrets.token_bytes(8))
    shutil.rmtree(_folder(team), ignore_errors=True)


def tidy(most: int = MOST, oldest: float = OLDEST) -> None:
    """Remove the pieces that were asked for longest ago, until the rest has room."""
    facts = [(path.stat(), path) for path in _root().glob("*/*") if path.is_file()]
    room, since = most, time.time() - oldest
    for fact, path in sorted(facts, key=lambda one: one[0].st_mtime, reverse=True):
        room -= fact.st_size
        if room < 0 or fact.st_mtime < since:
            path.unlink(missing_ok=True)


@cache
def code_state() -> str:
    """A fingerprint of everything that a piece is rendered with."""
    digest = sha256()
    for folder, pattern in SOURCES:
        for path in sorted((settings.ROOT / folder).rglob(pattern)):
            digest.update(path.read_bytes())
    return digest.hexdigest()


def _root() -> Path:
    return Path(settings.PIECES or settings.DATA / "pieces")


def _path(team: int, facts: object) -> Path:
    return _folder(team) / sha256(repr((code_state(), facts)).encode()).hexdigest()


def _folder(team: int) -> Path:
    return _root() / str(team)


def _mark(team: int) -> bytes:
    """What was written when the team's pieces were dropped last; empty before.

    It makes the folder, in which ``drop`` leaves a mark only if there is one.
    """
    try:
        _root().mkdir(parents=True, exist_ok=True)
        return (_root() / f"{team}.dropped").read_bytes()
    except OSError:
        return b""


def _write(path: Path, data: bytes) -> None:
    """Keep a piece; a full disk costs nothing but the time to draw it again."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        _place(path, data)
        if next(_made) % LOOK_EVERY == 0:
            tidy()
    except OSError:
        return


def _place(path: Path, data: bytes) -> None:
    """Put a whole file in place, or none."""
    with tempfile.NamedTemporaryFile(dir=path.parent, delete=False) as file:
        file.write(data)
    Path(file.name).replace(path)
