"""Files of plays: one play, or a library of many in one JSON file."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from plays.core.document import VERSION_KEY, readable, to_json
from plays.core.play import Play
from plays.core.problem import Problem
from plays.core.review import review
from shared.core.language import Language

LIBRARY_KEY: Final = "coachbook_library"
VERSION: Final = 1


@dataclass(frozen=True, slots=True)
class FilePlay:
    """One play of a file: what it is called there, the play if it is sound, its problems."""

    name: str
    play: Play | None
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class PlayFile:
    """What a file holds, and what is wrong with the file as a whole."""

    plays: tuple[FilePlay, ...]
    problems: tuple[Problem, ...] = ()


def read_file(data: bytes, language: Language) -> PlayFile:
    """Read a play file or a library file. Never raises."""
    many = _many(data)
    if many is None:
        return PlayFile((_one(data, language),))
    return PlayFile(tuple(_one(each, language) for each in many))


def write_library(plays: Iterable[Play]) -> bytes:
    """Many plays as one file."""
    return (
        readable({LIBRARY_KEY: VERSION, "plays": [to_json(play) for play in plays]}) + "\n"
    ).encode()


def _many(data: bytes) -> list[Mapping[str, Any]] | None:
    try:
        found = json.loads(data)
    except (ValueError, RecursionError):
        return None
    if isinstance(found, dict) and found.get(LIBRARY_KEY) == VERSION:
        plays = found.get("plays")
        if isinstance(plays, list) and all(isinstance(each, dict) for each in plays):
            return plays
    return None


def _one(data: bytes | Mapping[str, Any], language: Language) -> FilePlay:
    play, problems = review(data, language)
    if isinstance(data, dict):
        name = str(data.get("name") or data.get("key") or data.get(VERSION_KEY) or "")[:60]
    else:
        name = ""
    return FilePlay(play.name if play else name, None if problems else play, problems)
