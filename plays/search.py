"""Finding by words, whatever their accents and capitals, alike in every database.

Neither SQLite nor PostgreSQL without an extension folds accents, so the words are folded here:
once when a play is published, and when somebody looks for them.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Mapping
from typing import Any, Final

# Letters whose stroke is no accent in Unicode, and two letters written as one.
_LETTERS: Final = str.maketrans(
    {"ø": "o", "ł": "l", "đ": "d", "ð": "d", "ı": "i", "þ": "th", "æ": "ae", "œ": "oe"}
)
_LISTS: Final = ("teach", "errors", "cautions")
_INNER: Final = (
    ("phases", "title"),
    ("looks", "condition"),
    ("counters", "says"),
    ("variants", "call"),
    ("translations", "said"),
)


def folded(text: str) -> str:
    """The text without accents and capitals, each stretch of space as one space."""
    bare = "".join(
        letter
        for letter in unicodedata.normalize("NFKD", text)
        if not unicodedata.combining(letter)
    )
    return " ".join(bare.casefold().translate(_LETTERS).split())


def search_text(document: Mapping[str, Any]) -> str:
    """Everything a coach wrote in a play document, folded, one text a line."""
    return "\n".join(filter(None, map(folded, _texts(document))))


def _texts(document: Mapping[str, Any]) -> Iterator[str]:
    for name in ("name", "series", "call", "use"):
        yield document.get(name, "")
    for name in _LISTS:
        yield from document.get(name, ())
    for name, text in _INNER:
        for item in document.get(name, ()):
            yield item.get(text, "")
