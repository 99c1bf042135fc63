"""A line as a phone leaves it, made the line that the reader knows.

Phones set curved quotation marks and apostrophes, capitals at the beginning and a full stop at
the end. None of them says anything in a line of the shorthand; what stands in quotation marks
is somebody's text and stays as it is.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

QUOTED: Final = re.compile(r'"(?:[^"\\]|\\.)*"')
# What may close a text that such a mark opens: English, Spanish and German habits.
_CLOSING: Final[Mapping[str, str]] = MappingProxyType({"“": "”", "«": "»", "„": "“”"})
_STRAIGHT: Final[Mapping[str, str]] = MappingProxyType(
    {"’": "'", "‘": "'", "´": "'", "\u00a0": " ", "\u202f": " "}
)
_STOP: Final = re.compile(r"(?<=[\w)\"])\s*\.$")


def typed(line: str) -> str:
    """The line in small letters with straight marks and no stop, its quoted texts untouched."""
    parts, at = [], 0
    while at < len(line):
        text, at = _quoted_at(line, at) or (_straight(line[at]), at + 1)
        parts.append(text)
    return _STOP.sub("", "".join(parts).strip())


def _quoted_at(line: str, at: int) -> tuple[str, int] | None:
    """The text in quotation marks that begins here, in straight ones, and where it ends."""
    if found := QUOTED.match(line, at):
        return found[0], found.end()
    for end in range(at + 1, len(line)):
        if line[end] in _CLOSING.get(line[at], ""):
            return json.dumps(line[at + 1 : end], ensure_ascii=False), end + 1
    return None


def _straight(sign: str) -> str:
    return _STRAIGHT.get(sign, sign).lower()
