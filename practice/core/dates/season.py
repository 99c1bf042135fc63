"""What the season after this one is called."""

from __future__ import annotations

import re

_YEAR = re.compile(r"\d+")


def next_season(season: str) -> str:
    """A season's name with each of its years one on: "2026/27" is followed by "2027/28".

    Years keep their width ("1999/00"); "" where the name holds no number to count on from.
    """
    if not _YEAR.search(season):
        return ""
    return _YEAR.sub(lambda found: _one_on(found.group()), season)


def _one_on(digits: str) -> str:
    """Four digits go on counting; fewer stand for the end of a year, where 99 is followed by 00."""
    after = str(int(digits) + 1).zfill(len(digits))
    return after if len(digits) > 2 else after[-len(digits) :]
