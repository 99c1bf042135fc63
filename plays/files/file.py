"""Files of plays: one play, or many in one library file.

A library file is ``{"coachbook_library": 1, "plays": [...]}`` with play documents in it. Each
play is judged by itself, so that one faulty play does not hide the others.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Final

from plays.core.document.file import readable, to_json
from plays.core.document.problem import problem
from plays.core.document.review import review
from plays.core.play import Play
from shared.core.finding import Finding
from shared.core.language import N_, Language

LIBRARY_KEY: Final = "coachbook_library"
VERSION: Final = 1
MOST_PLAYS: Final = 300  # in one file; ours

NEWER: Final = N_("This library file has format {found}; this Coachbook reads format {known}.")
NO_PLAYS: Final = N_("This library file holds no list “plays”.")
NONE: Final = N_("This library file holds no play.")
TOO_MANY: Final = N_("This file holds {count} plays; {most} is the most. Save it in parts.")


@dataclass(frozen=True, slots=True)
class FilePlay:
    """One play of a file: what it is called there, the play if it is sound, its problems."""

    name: str
    play: Play | None
    problems: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class PlayFile:
    """What a file holds, or what is wrong with the file as a whole."""

    plays: tuple[FilePlay, ...]
    problems: tuple[Finding, ...] = ()


def read_file(data: bytes, language: Language) -> PlayFile:
    """Read a play file or a library file. Never raises; pointers start at each play."""
    library = _library(data)
    if library is None:
        one = _read(data, language)
        return PlayFile((one,)) if one.name or one.play else PlayFile((), one.problems)
    wrong = _wrong(library, language)
    if wrong is not None:
        return PlayFile((), (wrong,))
    return PlayFile(tuple(_read(each, language) for each in library["plays"]))


def write_library(plays: Iterable[Play]) -> bytes:
    """Many plays as one file, for people to read too."""
    held = {LIBRARY_KEY: VERSION, "plays": [to_json(play) for play in plays]}
    return (readable(held) + "\n").encode()


def _library(data: bytes) -> dict[str, Any] | None:
    """The outer object of a library file; None for anything else."""
    try:
        found = json.loads(data)
    except (ValueError, RecursionError):
        return None
    return found if isinstance(found, dict) and LIBRARY_KEY in found else None


def _wrong(library: dict[str, Any], language: Language) -> Finding | None:
    version, plays = library[LIBRARY_KEY], library.get("plays")
    if version != VERSION:
        at, found = (LIBRARY_KEY,), str(version)[:20]
        return problem(at, "newer", language, NEWER, found=found, known=VERSION)
    if not isinstance(plays, list):
        return problem(("plays",), "type", language, NO_PLAYS)
    if not plays:
        return problem(("plays",), "empty", language, NONE)
    if len(plays) > MOST_PLAYS:
        slots = {"count": len(plays), "most": MOST_PLAYS}
        return problem(("plays",), "too_many", language, TOO_MANY, **slots)
    return None


def _read(data: Any, language: Language) -> FilePlay:
    """One play, from the bytes of a file or from an item of a library file."""
    bare = data if isinstance(data, bytes | dict) else json.dumps(data).encode()
    play, problems = review(bare, language)
    name = play.name if play is not None else _name(data)
    return FilePlay(name, None if problems else play, problems)


def _name(data: Any) -> str:
    """What a faulty play is called in its file, so that its author finds it."""
    if isinstance(data, bytes):
        try:
            data = json.loads(data)
        except (ValueError, RecursionError):
            return ""
    if not isinstance(data, dict):
        return ""
    names = (data.get("name"), data.get("key"))
    return next((name[:60] for name in names if isinstance(name, str) and name.strip()), "")
