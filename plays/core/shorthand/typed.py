"""A line as a phone leaves it, made the line that the reader knows.

Phones set curved quotation marks and apostrophes, capitals at the beginning and a full stop at
the end. None of them says anything in a line of the shorthand; what stands in quotation marks
is somebody's text and stays as it is.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
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
    alone: set[str] = set()  # marks that nothing closes from here on: looked for once, not again
    while at < len(line):
        sign, quoted = line[at], None
        if (sign == '"' or sign in _CLOSING) and sign not in alone:
            quoted = _quoted_at(line, at)
            if quoted is None:
                alone.add(sign)
        text, at = quoted or (_straight(sign), at + 1)
        parts.append(text)
    return _STOP.sub("", "".join(parts).strip())


def quoted_in(line: str) -> Iterator[re.Match[str]]:
    """The texts in straight quotation marks; behind a mark without a partner there are none.

    For what stands behind it closes nothing: each further mark has a backslash before it.
    """
    at = line.find('"')
    while at >= 0 and (found := QUOTED.match(line, at)):
        yield found
        at = line.find('"', found.end())


def _quoted_at(line: str, at: int) -> tuple[str, int] | None:
    """The text in quotation marks that begins here, in straight ones, and where it ends."""
    if found := QUOTED.match(line, at):
        return found[0], found.end()
    closing = _CLOSING.get(line[at], "")
    end = min((n for n in (line.find(sign, at + 1) for sign in closing) if n >= 0), default=-1)
    return None if end < 0 else (json.dumps(line[at + 1 : end], ensure_ascii=False), end + 1)


def _straight(sign: str) -> str:
    return _STRAIGHT.get(sign, sign).lower()
